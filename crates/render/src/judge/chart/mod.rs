//! Chart check: a 24-patch chart in a frame, found or marked by hand; what it says of the frame's exposure
//! and light, and what a look does to each of its colours.
//!
//! All colours are CIELAB under D50 (`published.rs`), differences CIEDE2000. *Without the look* is the
//! frame's own light with its trim, a perfect white being 1 and nothing bent or cut off; *through the look*
//! is what the screen shows, its white taken for D50's by Bradford, without texture.

mod find;
mod flat;
mod grid;
mod lattice;
mod published;
mod read;
mod suggest;

use lookwright_colour::encoding::{EncodingClass, ScreenId};
use lookwright_colour::space::{Lab, delta_e_2000};
use lookwright_colour::{Error, Result, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, Trim};
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::path::lens::light_balance;
use lookwright_film::path::{FrameCode, LightPath};
use lookwright_film::spatial::{Planes, reduce};

use find::{Found, find, of_marks};
use grid::{Grid, Place};
use published::{PATCHES, lab, lab_of, luminance, name};
use read::{Reading, read};

pub use suggest::ChartTrim;

/// Longer side of the copy that a chart is looked for in.
pub const CHART_PX: usize = 640;
/// Marks set by hand need less likeness: the person says that it is the chart. *Chosen.*
const BY_HAND: f64 = 0.6;
/// The light may change by so many stops over the chart, over a finished picture's by twice as many: its
/// tones are bent. *Chosen.*
const UNEVEN: f64 = 0.3;
/// The chart's grey lies so many stops below what is around it where it stands in shadow. *Chosen.*
const IN_SHADOW: f64 = 2.0;
/// Stops are told from here.
const MID_GREY: f64 = 0.18;

/// Four places of a picture, each from 0 to 1 across and down: the centres of the chart's corner patches,
/// dark skin, bluish green, black, white.
pub type ChartCorners = [[f64; 2]; 4];

/// One patch of a chart.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartPatch {
    /// What it is called.
    pub name: &'static str,
    /// The corners of what was read, 0 to 1 across and down.
    pub outline: ChartCorners,
    /// Its light with the frame's trim, in stops from mid-grey.
    pub stops: f64,
    /// How uneven it is: half the spread of the middle two thirds of its green code, over the mean.
    pub spread: f64,
    /// Whether one of its channels is at the end of what the camera, or the file, can tell.
    pub clipped: bool,
    /// The published colour, the frame's without the look, and that through the look.
    pub colours: [Lab; 3],
    /// CIEDE2000 from the published colour: without and through the look.
    pub differences: [f64; 2],
}

/// What a chart says.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartCheck {
    /// Where it lies.
    pub corners: ChartCorners,
    /// All of its patches, row by row from dark skin to black.
    pub patches: Vec<ChartPatch>,
    /// The trim that its greys ask for.
    pub trim: Option<ChartTrim>,
    /// What is to be known of it, one sentence each: how it lies, its light, what is clipped.
    pub remarks: Vec<String>,
}

/// Finds the chart in a frame, or takes it where its `marks` are, and reads it. `code` is a copy of the
/// frame, [`CHART_PX`] on its longer side; a larger one is made smaller.
///
/// # Errors
/// One sentence if there is none, if it is mirrored, if the marks don't lie on one, or if the frame is a
/// film scan.
pub fn check_chart(
    code: &Planes,
    frame: &Frame,
    look: &Look,
    screen: ScreenId,
    marks: Option<&ChartCorners>,
) -> Result<ChartCheck> {
    if frame.source.encoding.info().class == EncodingClass::Scan {
        return Err(Error::new(
            "This frame is a film scan, whose colours are the film's; chart check reads frames from a camera.",
        ));
    }
    if code.pixels() == 0 {
        return Err(Error::new(
            "There is no picture to look for a chart in; open one first.",
        ));
    }
    let code = &fitted(code);
    let untrimmed = Frame {
        trim: Trim::default(),
        ..frame.clone()
    };
    let light = light(code, &untrimmed);
    let found = match marks {
        Some(marks) => marked(&light, marks)?,
        None => find(&light).ok_or_else(|| {
            Error::new(
                "No 24-patch chart was found in this frame; if it shows a whole one, drag the four corner marks onto it.",
            )
        })?,
    };
    if found.mirrored {
        return Err(Error::new(
            "The chart in this frame is seen in a mirror, so its patches stand in the wrong order; flip the picture first.",
        ));
    }
    let readings = read(code, &untrimmed, &found.grid);
    let trim = suggest::trim(&readings);
    Ok(ChartCheck {
        corners: shares(&found.grid.corners(), code),
        patches: patches(&readings, &found.grid, code, (frame, look, screen)),
        trim,
        remarks: remarks(&readings, &found.grid, &light, &untrimmed, trim),
    })
}

/// The copy that is worked on.
fn fitted(code: &Planes) -> Planes {
    let longer = code.width.max(code.height).max(1);
    let side = |length: usize| (length * CHART_PX.min(longer)).div_ceil(longer);
    reduce(code, side(code.width), side(code.height))
}

/// Scene light of a picture.
fn light(code: &Planes, frame: &Frame) -> Planes {
    let intake = IntakePoint::new(frame);
    let mut out = code.clone();
    for i in 0..code.pixels() {
        let pixel = Rgb::from_array([0, 1, 2].map(|c| code.planes[c][i]));
        let light = intake.apply(FrameCode(pixel)).0.to_array();
        for (plane, light) in out.planes.iter_mut().zip(light) {
            plane[i] = light;
        }
    }
    out
}

fn marked(scene_lin: &Planes, marks: &ChartCorners) -> Result<Found> {
    let size = [scene_lin.width as f64, scene_lin.height as f64];
    let marks = marks.map(|mark| [0, 1].map(|i| mark[i].clamp(0.0, 1.0) * size[i]));
    let found = of_marks(scene_lin, &marks);
    found
        .filter(|found| found.likeness.iter().all(|like| *like > BY_HAND))
        .ok_or_else(|| {
            Error::new(
                "The patches between these marks are not those of a 24-patch chart; put each mark on the middle of a corner patch.",
            )
        })
}

fn shares(places: &[Place; 4], picture: &Planes) -> ChartCorners {
    let size = [picture.width as f64, picture.height as f64];
    places.map(|place| [0, 1].map(|i| place[i] / size[i]))
}

fn patches(
    readings: &[Reading; PATCHES],
    grid: &Grid,
    picture: &Planes,
    (frame, look, screen): (&Frame, &Look, ScreenId),
) -> Vec<ChartPatch> {
    let mut delivery = Delivery::default();
    delivery.display.screen = screen;
    let path = LightPath::new(look, frame, &delivery);
    let (signal, from_screen) = (screen.signal(), screen.from_working().inverse());
    let one = |(i, reading): (usize, &Reading)| {
        let code = Rgb::from_array(reading.code.map(|v| v as f32));
        let trimmed = path.intake(FrameCode(code)).0.to_array().map(f64::from);
        let shown = signal.decode(path.to_screen(code));
        let shown = shown.to_array().map(f64::from);
        let shown = from_screen.map_or(shown, |back| back.apply(shown));
        let colours = [lab(i), lab_of(trimmed), lab_of(shown)];
        ChartPatch {
            name: name(i),
            outline: shares(&read::outline(grid, i), picture),
            stops: libm::log2(luminance(trimmed).max(1e-6) / MID_GREY),
            spread: reading.spread,
            clipped: reading.clipped,
            colours,
            differences: [1, 2].map(|k| delta_e_2000(colours[0], colours[k])),
        }
    };
    readings.iter().enumerate().map(one).collect()
}

fn remarks(
    readings: &[Reading; PATCHES],
    grid: &Grid,
    scene_lin: &Planes,
    frame: &Frame,
    trim: Option<ChartTrim>,
) -> Vec<String> {
    let mut out = Vec::new();
    let finished = frame.source.encoding.info().class == EncodingClass::Display;
    if finished {
        out.push("This is a finished picture: how it was rendered is undone roughly, so what the chart says is near and not exact.".to_owned());
    }
    match grid.turns() {
        0 => {}
        2 => out
            .push("The chart lies upside down; its patches are read the right way up.".to_owned()),
        _ => out
            .push("The chart lies on its side; its patches are read the right way up.".to_owned()),
    }
    let clipped: Vec<&str> = (0..PATCHES)
        .filter(|i| readings[*i].clipped)
        .map(name)
        .collect();
    let Some(trim) = trim else {
        out.push("All of the chart's greys are clipped, so it can say nothing of exposure and light; use a frame that is exposed less.".to_owned());
        return out;
    };
    if !clipped.is_empty() {
        out.push(format!(
            "Clipped, and left out of what is suggested: {}.",
            clipped.join(", ")
        ));
    }
    let balance = light_balance(trim.kelvin, trim.tint, 1.0);
    let balanced = readings.map(|reading| balance.apply(reading.scene_lin));
    let [across, down] = read::slopes(readings, &balanced);
    let [columns, rows] = grid.mesh();
    let (most, way) = if across.abs() > down.abs() {
        (across, columns)
    } else {
        (down, rows)
    };
    let even = if finished { 2.0 * UNEVEN } else { UNEVEN };
    if most.abs() > even {
        out.push(format!(
            "The light on the chart is uneven: it falls by about {:.1} stops towards the {} of the picture; a shadow may lie on it.",
            most.abs(),
            side(way.map(|along| -most.signum() * along))
        ));
    }
    let grey = MID_GREY * libm::exp2(-trim.exposure);
    let beside = read::surround(scene_lin, grid).map(|around| libm::log2(around.max(1e-6) / grey));
    if let Some(stops) = beside.filter(|stops| *stops > IN_SHADOW) {
        out.push(format!(
            "The chart's grey is {stops:.1} stops darker than what is around it; if the chart stands in shadow, its exposure is not the scene's."
        ));
    }
    out
}

/// The side of a picture that a way leads to.
fn side([across, down]: Place) -> &'static str {
    match (across.abs() > down.abs(), across > 0.0, down > 0.0) {
        (true, true, _) => "right",
        (true, false, _) => "left",
        (false, _, true) => "foot",
        (false, _, false) => "top",
    }
}
