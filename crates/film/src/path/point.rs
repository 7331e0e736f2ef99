//! The parts of the path that map one pixel to one pixel, and runs of them as one function.

use super::{Density, DisplayLin, FrameCode, LayerExposure, LightPath, ScanCode, SceneLin};
use crate::look::StageId;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// A part of the path that maps one pixel to one pixel, in the order of the path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PointPart {
    /// The frame's code to scene light.
    Intake,
    /// Scene light written straight for the screen: instead of all that follows.
    Show,
    /// Scene light to scene light.
    Lens,
    /// Scene light to layer exposure.
    Expose,
    /// Layer exposure to density.
    Develop,
    /// A film scan's code to density: instead of all before.
    Enter,
    /// Density to the finished scan's code.
    Scan,
    /// The scan's code to the print's.
    Print,
    /// The print's code to the screen's.
    Screen,
}

impl PointPart {
    /// Those that a look consists of, in order.
    pub const OF_A_LOOK: [Self; 7] = [
        Self::Intake,
        Self::Lens,
        Self::Expose,
        Self::Develop,
        Self::Scan,
        Self::Print,
        Self::Screen,
    ];

    /// The stage that it belongs to.
    pub const fn stage(self) -> StageId {
        match self {
            Self::Intake => StageId::Intake,
            Self::Lens => StageId::Lens,
            Self::Expose | Self::Develop | Self::Enter => StageId::Negative,
            Self::Scan => StageId::Scan,
            Self::Print => StageId::Print,
            Self::Show | Self::Screen => StageId::Screen,
        }
    }

    /// Whether what it gives is the developed film.
    pub const fn makes_film(self) -> bool {
        matches!(self, Self::Develop | Self::Enter)
    }

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Intake => "intake",
            Self::Show => "show",
            Self::Lens => "lens",
            Self::Expose => "expose",
            Self::Develop => "develop",
            Self::Enter => "enter",
            Self::Scan => "scan",
            Self::Print => "print",
            Self::Screen => "screen",
        }
    }
}

/// Some point parts that run as one, in the order of the path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Points(u16);

impl Points {
    /// None: pixels stay as they are.
    pub const NONE: Self = Self(0);
    /// As the camera saw it, with no look at all.
    pub const UNSTYLED: Self = Self::NONE.and(PointPart::Intake).and(PointPart::Show);

    /// One alone.
    #[must_use]
    pub const fn only(part: PointPart) -> Self {
        Self::NONE.and(part)
    }

    /// All of a look up to the end of a stage.
    #[must_use]
    pub fn up_to(stage: StageId) -> Self {
        let parts = PointPart::OF_A_LOOK.into_iter();
        parts
            .filter(|part| part.stage() as usize <= stage as usize)
            .fold(Self::NONE, Self::and)
    }

    /// All of a look on a film scan up to the end of a stage: before the negative it is only read as light.
    #[must_use]
    pub fn of_scan(stage: StageId) -> Self {
        if (stage as usize) < StageId::Negative as usize {
            return Self::only(PointPart::Intake);
        }
        let before = [
            PointPart::Intake,
            PointPart::Lens,
            PointPart::Expose,
            PointPart::Develop,
        ];
        let behind = before.into_iter().fold(Self::up_to(stage), Self::without);
        behind.and(PointPart::Enter)
    }

    /// These and one more.
    #[must_use]
    pub const fn and(self, part: PointPart) -> Self {
        Self(self.0 | 1 << part as u16)
    }

    /// These and others.
    #[must_use]
    pub const fn with(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    /// These but for one.
    #[must_use]
    pub const fn without(self, part: PointPart) -> Self {
        Self(self.0 & !(1 << part as u16))
    }

    /// Whether that one is among them.
    #[inline(always)]
    pub const fn has(self, part: PointPart) -> bool {
        self.0 & 1 << part as u16 != 0
    }

    /// Whether the developed film is among what they give.
    pub const fn have_film(self) -> bool {
        self.has(PointPart::Develop) || self.has(PointPart::Enter)
    }

    /// Whether there are none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }
}

impl LightPath {
    /// A pixel along some parts of the path: from the state before the first to that after the last.
    #[inline(always)]
    pub fn along<L: Lane>(&self, points: Points, pixel: Rgb<L>) -> Rgb<L> {
        let mut rgb = pixel;
        if points.has(PointPart::Intake) {
            rgb = self.intake(FrameCode(rgb)).0;
        }
        if points.has(PointPart::Show) {
            rgb = self.scene_to_screen(SceneLin(rgb)).0;
        }
        if points.has(PointPart::Lens) {
            rgb = self.lens(SceneLin(rgb)).0;
        }
        match (
            points.has(PointPart::Expose),
            points.has(PointPart::Develop),
        ) {
            (true, true) => rgb = self.develop_light(SceneLin(rgb)).0,
            (true, false) => rgb = self.expose(SceneLin(rgb)).0,
            (false, true) => rgb = self.develop(LayerExposure(rgb)).0,
            (false, false) => {}
        }
        if points.has(PointPart::Enter) {
            rgb = self.enter(FrameCode(rgb)).0;
        }
        if points.has(PointPart::Scan) {
            rgb = self.scan(Density(rgb)).0;
        }
        match (points.has(PointPart::Print), points.has(PointPart::Screen)) {
            (true, true) => rgb = self.print_to_screen(ScanCode(rgb)).0,
            (true, false) => rgb = self.print(ScanCode(rgb)).0,
            (false, true) => rgb = self.screen(DisplayLin(rgb)).0,
            (false, false) => {}
        }
        rgb
    }

    /// One pixel as [`LightPath::along`] takes it. Compiled once, here: `along` puts the whole path
    /// into whatever calls it, which pays in a loop over lanes and costs minutes of compiling
    /// elsewhere.
    pub fn pixel_along(&self, points: Points, pixel: Rgb) -> Rgb {
        self.along(points, pixel)
    }

    /// The numbers as they leave `stage`, without texture, from the frame's code.
    pub fn up_to(&self, stage: StageId, code: Rgb) -> Rgb {
        self.pixel_along(self.points_up_to(stage), code)
    }

    /// The whole table part: the frame's code to the screen's code.
    pub fn to_screen(&self, code: Rgb) -> Rgb {
        self.up_to(StageId::Screen, code)
    }

    /// The frame as the camera saw it, without any look: scene light written for the screen,
    /// limited to its range. The "before" of every comparison.
    pub fn unstyled(&self, code: Rgb) -> Rgb {
        self.pixel_along(Points::UNSTYLED, code)
    }
}
