//! An OpenColorIO configuration beside a pack's tables: cameras as colour spaces, looks as views.
//!
//! ```text
//! camera code -> curve (ocio/*.spi1d), matrix -> AP0, the reference
//! AP0 -> the same undone -> camera code -> the pack's table -> the screen's code
//! ```
//!
//! A view is named after its look, stock and camera encoding, as each encoding has a table of its own; a
//! viewing rule offers it where pictures are in that encoding. The way to the reference and back
//! falls out then, so the view gives the table's own pixels. A picture in another encoding is brought
//! into the table's. A table to scene code is a look, from AP0 to AP0: what is shown is what the pipeline's own
//! view makes of it.
//!
//! Source of the format: OpenColorIO's documents, profile version 2; read and validated by
//! OpenColorIO 2.6.0 (`tests/reference/check_pack.py`).

use core::fmt::Write;

use lookwright_colour::encoding::{Affine, EncodingClass, EncodingId, Range};
use lookwright_colour::space::{primaries::AP0, primaries::AP1, rgb_to_rgb};
use lookwright_colour::{Mat3, Result};
use lookwright_film::look::Options;
use lookwright_table::{Curve1, Label, spi};
use serde_json::json;

use super::work::Made;
use super::{Pack, PackLook, is_light};
use crate::{Format, Recipe, Split, name};

/// The configuration's place in the pack.
pub(super) const PATH: &str = "config.ocio";
/// Codes that a curve is sampled over: legal range leaves 0 ... 1 by 0.09 at most.
const CODES: [f32; 2] = [-0.125, 1.125];
/// Samples of a curve (chosen: between them it is off by less than 1e-4 of itself).
const SAMPLES: usize = 4096;
/// What stands before a transform of a group.
const CHILD: &str = "        ";

/// A view, or a look: the table of a recipe.
struct View {
    /// The table's name without its ending, a view's colour space.
    space: String,
    /// The table's file.
    file: String,
    recipe: Recipe,
    name: String,
}

/// The format that the views' tables are in, if the pack has one that OpenColorIO reads.
fn format(pack: &Pack) -> Option<Format> {
    let read = [Format::Clf, Format::Csp, Format::Cube, Format::Spi3d];
    let whole = pack.splits.contains(&Split::Whole);
    read.into_iter()
        .find(|format| whole && pack.formats.contains(format))
}

/// Encodings whose codes a curve makes light of, none where there is no configuration.
pub(super) fn curves(pack: &Pack) -> impl Iterator<Item = EncodingId> + '_ {
    let there = format(pack).is_some();
    let codes = pack.encodings.iter().copied().chain(given(pack));
    codes.filter(move |encoding| there && !is_light(*encoding))
}

/// Encodings that tables to scene code give, and none takes.
fn given(pack: &Pack) -> impl Iterator<Item = EncodingId> + '_ {
    let codes = pack.scene.iter().map(|code| code.encoding).enumerate();
    let is_new = |(place, encoding): &(usize, EncodingId)| {
        let before = pack.scene[..*place].iter();
        !pack.encodings.contains(encoding) && before.into_iter().all(|it| it.encoding != *encoding)
    };
    codes.filter(is_new).map(|(_, encoding)| encoding)
}

/// How many files it takes.
pub(super) fn files(pack: &Pack) -> usize {
    usize::from(format(pack).is_some()) + curves(pack).count()
}

/// What the note says of it; nothing where there is none.
pub(super) fn told(pack: &Pack) -> Option<String> {
    format(pack)?;
    let mut words = "config.ocio is an OpenColorIO configuration (version 2) with the encodings of this pack as \
         colour spaces, named as in file names, and the looks as views of the screen: choose the \
         clip's space and the view of the same encoding, and what is shown is the table. Leave it \
         where it is, as it finds the tables from there. It has the whole tables alone."
        .to_owned();
    if !pack.scene.is_empty() {
        words.push_str(
            " Tables to scene code are its looks: put one on a clip and your own view behind it, or copy looks, \
             spaces and files into your configuration.",
        );
    }
    Some(words)
}

/// The configuration and the curves that it reads.
pub(super) fn write(pack: &Pack, entries: &[PackLook], made: &mut Made) -> Result<()> {
    let Some(format) = format(pack) else {
        return Ok(());
    };
    let (looks, views) = views(pack, entries, format)
        .into_iter()
        .partition::<Vec<_>, _>(|view| view.recipe.scene.is_some());
    made.add(
        PATH,
        text(pack, &views, &looks)?.as_bytes(),
        json!({ "role": "ocio-config" }),
    )?;
    for encoding in curves(pack) {
        let info = encoding.info();
        let curve = Curve1::sample(SAMPLES, CODES[0], CODES[1], |code| {
            f64::from(info.curve.decode(code as f32))
        })?;
        let label = Label {
            title: format!("{}: code to light", info.label),
            ..Label::default()
        };
        let file = spi::write_curve(&curve, &label)?;
        let about = json!({ "role": "ocio-curve", "encoding": encoding.id() });
        made.add(&curve_path(encoding), file.as_bytes(), about)?;
    }
    Ok(())
}

fn curve_path(encoding: EncodingId) -> String {
    format!("ocio/{}_to_light.spi1d", encoding.id())
}

fn views(pack: &Pack, entries: &[PackLook], format: Format) -> Vec<View> {
    let mut views = Vec::new();
    for entry in entries {
        let whole = pack.recipes(entry).into_iter();
        for recipe in whole.filter(|recipe| recipe.split == Split::Whole) {
            let space = name::table(&entry.slug, &recipe);
            views.push(View {
                file: format!("{}/{space}.{}", entry.folder(), format.id()),
                name: match recipe.scene {
                    Some(_) => space.replace('_', " "),
                    None => {
                        let (slug, folder) = (&entry.slug, entry.folder());
                        format!("{slug} {folder} from {}", name::input(&recipe))
                    }
                },
                space,
                recipe,
            });
        }
    }
    views
}

fn text(pack: &Pack, views: &[View], looks: &[View]) -> Result<String> {
    let inputs: Vec<(EncodingId, Range)> = pack
        .encodings
        .iter()
        .flat_map(|&encoding| pack.ranges_of(encoding).iter().map(move |&r| (encoding, r)))
        .collect();
    let input =
        |(encoding, range): &(EncodingId, Range)| format!("{}-{}", encoding.id(), range.id());
    let mut out = format!(
        "ocio_profile_version: 2\n\nname: lookwright-pack\ndescription: Made with Lookwright {}. \
         A view shows its table where the picture is in the view's encoding.\nsearch_path: .\n\
         strictparsing: true\nluma: [0.2126, 0.7152, 0.0722]\n\nroles:\n  aces_interchange: AP0\n  \
         default: {}\n  scene_linear: AP0\n\nfile_rules:\n  - !<Rule> {{name: Default, colorspace: \
         default}}\n\nviewing_rules:\n",
        env!("CARGO_PKG_VERSION"),
        input(&inputs[0])
    );
    for each in &inputs {
        let name = input(each);
        // Writing to a string cannot fail.
        let _ = writeln!(out, "  - !<Rule> {{name: {name}, colorspaces: {name}}}");
    }
    out.push_str("\ndisplays:\n");
    for &range in &pack.out_ranges {
        let of_range = |view: &&View| view.recipe.delivery.display.range == range;
        for (place, view) in views.iter().filter(of_range).enumerate() {
            if place == 0 {
                let _ = writeln!(out, "  {}:", name::output(&view.recipe));
            }
            let _ = writeln!(
                out,
                "    - !<View> {{name: {}, colorspace: {}, rule: {}}}",
                view.name,
                view.space,
                name::input(&view.recipe)
            );
        }
    }
    out.push_str("\nactive_displays: []\nactive_views: []\n");
    for (place, look) in looks.iter().enumerate() {
        if place == 0 {
            out.push_str("\nlooks:\n");
        }
        let _ = write!(
            out,
            "  - !<Look>\n    name: {}\n    process_space: AP0\n    description: Fingerprint {}\n    \
             transform: !<GroupTransform>\n      children:\n{}{}",
            look.name,
            look.recipe.look.fingerprint(),
            through(look)?,
            match look.recipe.scene {
                Some(code) => to_reference((code.encoding, Range::Full), CHILD, false)?,
                None => String::new(),
            }
        );
    }
    out.push_str(
        "\ncolorspaces:\n  - !<ColorSpace>\n    name: AP0\n    \
         family: Scene\n    bitdepth: 32f\n    description: ACES2065-1, the reference\n    isdata: \
         false\n    encoding: scene-linear\n",
    );
    let given = given(pack).map(|encoding| (encoding, Range::Full));
    for each in inputs.iter().copied().chain(given) {
        let info = each.0.info();
        // Of codes for screens there are more kinds than the format has words.
        let kind = match info.class {
            EncodingClass::SceneLinear => "    encoding: scene-linear\n",
            EncodingClass::Log | EncodingClass::Scan => "    encoding: log\n",
            _ => "",
        };
        let _ = write!(
            out,
            "\n  - !<ColorSpace>\n    name: {}\n    family: Input\n    bitdepth: 32f\n    description: \
             \"{}, {} range\"\n    isdata: false\n{kind}    to_scene_reference: \
             !<GroupTransform>\n      children:\n{}",
            input(&each),
            info.label.replace('"', "'"),
            each.1.id(),
            to_reference(each, CHILD, false)?
        );
    }
    for view in views {
        let _ = write!(
            out,
            "\n  - !<ColorSpace>\n    name: {}\n    family: Output\n    bitdepth: 32f\n    description: \
             Fingerprint {}\n    isdata: false\n    from_scene_reference: \
             !<GroupTransform>\n      children:\n{}",
            view.space,
            view.recipe.look.fingerprint(),
            through(view)?
        );
    }
    Ok(out)
}

/// The transforms from AP0 light through a table.
fn through(view: &View) -> Result<String> {
    let from = (view.recipe.encoding, view.recipe.range);
    Ok(format!(
        "{}{CHILD}- !<FileTransform> {{src: {}, interpolation: tetrahedral}}\n",
        to_reference(from, CHILD, true)?,
        view.file
    ))
}

/// The transforms from an encoding's codes to AP0 light, or back.
fn to_reference(
    (encoding, range): (EncodingId, Range),
    indent: &str,
    back: bool,
) -> Result<String> {
    let info = encoding.info();
    let affine = range.to_code(info.class, 10)?;
    let (_, to_ap1) = encoding.to_scene();
    let to_ap0 = rgb_to_rgb(&AP1, &AP0, info.cat).after(&to_ap1);
    let mut steps = Vec::new();
    if affine != Affine::IDENTITY {
        let gain = Mat3::diagonal([affine.gain.into(); 3]);
        steps.push(matrix(&gain, affine.offset.into()));
    }
    if let Some(unmixing) = encoding.unmixing() {
        steps.push(matrix(&unmixing, 0.0));
    }
    if !is_light(encoding) {
        let path = curve_path(encoding);
        steps.push(format!(
            "!<FileTransform> {{src: {path}, interpolation: linear"
        ));
    }
    steps.push(matrix(&to_ap0, 0.0));
    if back {
        steps.reverse();
    }
    let end = if back { ", direction: inverse}" } else { "}" };
    let lines = steps.iter().map(|step| format!("{indent}- {step}{end}\n"));
    Ok(lines.collect())
}

/// A matrix of 4 x 4 and an offset, without what closes it.
fn matrix(Mat3(rows): &Mat3, offset: f64) -> String {
    let mut numbers: Vec<String> = Vec::new();
    for row in rows {
        numbers.extend(row.iter().map(f64::to_string));
        numbers.push("0".to_owned());
    }
    numbers.extend(["0", "0", "0", "1"].map(str::to_owned));
    let mut text = format!("!<MatrixTransform> {{matrix: [{}]", numbers.join(", "));
    if offset != 0.0 {
        let _ = write!(text, ", offset: [{offset}, {offset}, {offset}, 0]");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::{Look, StartingStock};

    /// A file that is named and not there, or a space that a view wants and nobody has, stops the
    /// configuration from loading.
    #[test]
    fn what_is_named_is_there() {
        let looks = vec![Look::starting(StartingStock::Overcast)];
        let mut pack = Pack::new(looks, vec![EncodingId::LogC3, EncodingId::AcesCg]);
        pack.grid = 2;
        pack.ranges = vec![Range::Full, Range::Legal];
        let files = crate::pack::tests::files(crate::pack::tests::zip_of(&pack));
        let text = |path: &str| {
            let file = files.iter().find(|(name, _)| name == path);
            String::from_utf8(file.unwrap().1.clone()).unwrap()
        };
        let config = text(PATH);
        let named = config.split("src: ").skip(1);
        let mut count = 0;
        for rest in named {
            let path = rest.split(',').next().unwrap();
            assert!(files.iter().any(|(name, _)| name == path), "{path}");
            count += 1;
        }
        // Two ranges of LogC3 and one of ACEScg: three tables, two spaces with a curve and its way back.
        assert_eq!(count, 3 + 2 * 2);
        for rest in config.split("colorspace: ").skip(2) {
            let space = rest.split(',').next().unwrap();
            assert!(config.contains(&format!("    name: {space}\n")), "{space}");
        }
    }

    /// Every curve can be sampled as far as legal range reaches.
    #[test]
    fn curves_are_finite_as_far_as_codes_go() {
        for encoding in EncodingId::ALL {
            for code in CODES {
                assert!(
                    encoding.info().curve.decode(code).is_finite(),
                    "{encoding:?}"
                );
            }
        }
    }

    #[test]
    fn packs_of_pictures_have_none() {
        let looks = vec![Look::starting(StartingStock::Overcast)];
        let mut pack = Pack::new(looks, vec![EncodingId::LogC3]);
        assert_eq!(files(&pack), 2);
        pack.formats = vec![Format::Icc];
        assert_eq!(files(&pack), 0);
        assert!(told(&pack).is_none());
    }
}
