//! The macros that make typed structs out of descriptions.

/// Declares an enum whose variants are a choice's options, with id and label each.
macro_rules! options {
    ($(#[$meta:meta])* $name:ident { $($(#[$vmeta:meta])* $variant:ident = $id:literal, $label:literal;)+ }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum $name { $($(#[$vmeta])* #[doc = $label] $variant,)+ }

        impl $crate::look::Options for $name {
            const OPTIONS: &'static [$crate::look::ChoiceOption] =
                &[$($crate::look::ChoiceOption { id: $id, label: $label }),+];
            const ALL: &'static [Self] = &[$(Self::$variant),+];
            fn id(self) -> &'static str {
                match self { $(Self::$variant => $id),+ }
            }
        }
    };
}

/// The Rust type, the default and the [`Kind`](crate::look::Kind) of one control.
macro_rules! control {
    (type number $($rest:tt)*) => { f64 };
    (type whole $($rest:tt)*) => { f64 };
    (type switch $($rest:tt)*) => { bool };
    (type choice ($type:ty, $($rest:tt)*)) => { $type };
    (type curve $($rest:tt)*) => { Vec<[f64; 2]> };

    (default number ($default:expr, $($rest:tt)*)) => { $default };
    (default whole ($default:expr, $($rest:tt)*)) => { $default };
    (default switch ($default:expr)) => { $default };
    (default choice ($type:ty, $variant:ident)) => { <$type>::$variant };
    (default curve ($max:expr)) => { Vec::new() };

    (kind number ($default:expr, neutral $neutral:expr, $min:expr, $max:expr, by $step:expr, $unit:literal)) => {
        control!(kind number ($default, neutral $neutral, $min, $max, by $step, $unit, Linear))
    };
    (kind number ($default:expr, neutral $neutral:expr, $min:expr, $max:expr, by $step:expr, $unit:literal, $scale:ident)) => {
        $crate::look::Kind::Number {
            unit: $unit, min: $min, max: $max, step: $step, default: $default,
            neutral: $neutral, whole: false, scale: $crate::look::Scale::$scale,
        }
    };
    (kind whole ($default:expr, $min:expr, $max:expr, $unit:literal)) => {
        $crate::look::Kind::Number {
            unit: $unit, min: $min, max: $max, step: 1.0, default: $default,
            neutral: $default, whole: true, scale: $crate::look::Scale::Linear,
        }
    };
    (kind switch ($default:expr)) => { $crate::look::Kind::Switch { default: $default } };
    (kind choice ($type:ty, $variant:ident)) => {
        $crate::look::Kind::Choice {
            options: <$type as $crate::look::Options>::OPTIONS,
            default: <$type as $crate::look::Options>::OPTIONS[<$type>::$variant as usize].id,
        }
    };
    (kind curve ($max:expr)) => { $crate::look::Kind::Curve { max_points: $max } };
}

/// Declares a step: a struct with `on`, `amount` and one typed field per control.
///
/// `point` or `texture` says which part of a look it belongs to; `on` or `off` how it starts.
macro_rules! step {
    ($(#[$meta:meta])* $name:ident = $id:literal, $label:literal, $part:ident, $start:ident, $help:literal {
        $($field:ident: $kind:ident $args:tt, $flabel:literal, $fhelp:literal;)*
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            /// Whether the step acts.
            pub on: bool,
            /// How much of it is mixed in, 0 ... 2.
            pub amount: f64,
            $(#[doc = $fhelp] pub $field: control!(type $kind $args),)*
        }

        impl $name {
            /// The step's description.
            pub const SPEC: $crate::look::StepSpec = $crate::look::StepSpec {
                id: $id, label: $label, help: $help,
                texture: step!(@part $part), on: step!(@start $start),
                controls: &[$($crate::look::Control {
                    id: stringify!($field), label: $flabel, help: $fhelp,
                    kind: control!(kind $kind $args),
                }),*],
            };
        }

        impl Default for $name {
            fn default() -> Self {
                Self {
                    on: step!(@start $start), amount: 1.0,
                    $($field: control!(default $kind $args),)*
                }
            }
        }

        impl $crate::look::Step for $name {
            fn spec(&self) -> &'static $crate::look::StepSpec { &Self::SPEC }
            fn is_on(&self) -> bool { self.on }
            fn set_on(&mut self, on: bool) { self.on = on; }
            fn amount(&self) -> f64 { self.amount }
            fn set_amount(&mut self, amount: f64) { self.amount = amount; }
            fn get(&self, index: usize) -> $crate::look::Value {
                let fields: &[&dyn $crate::look::Field] = &[$(&self.$field),*];
                fields[index].to_value()
            }
            fn set(&mut self, index: usize, value: &$crate::look::Value) {
                let fields: &mut [&mut dyn $crate::look::Field] = &mut [$(&mut self.$field),*];
                fields[index].take(value);
            }
        }
    };
    (@part point) => { false };
    (@part texture) => { true };
    (@start on) => { true };
    (@start off) => { false };
}

/// Declares a stage: a struct of its steps, in the order in which light meets them.
macro_rules! stage {
    ($(#[$meta:meta])* $name:ident = $id:literal, $label:literal, $about:literal {
        $($field:ident: $type:ident,)+
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name { $(#[doc = concat!("The step [`", stringify!($type), "`].")] pub $field: $type,)+ }

        impl $crate::look::Stage for $name {
            const ID: &'static str = $id;
            const LABEL: &'static str = $label;
            const ABOUT: &'static str = $about;
            fn steps(&self) -> Vec<&dyn $crate::look::Step> { vec![$(&self.$field),+] }
            fn steps_mut(&mut self) -> Vec<&mut dyn $crate::look::Step> { vec![$(&mut self.$field),+] }
        }
    };
}

pub(crate) use {control, options, stage, step};
