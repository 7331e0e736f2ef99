//! The plan: which passes a picture goes through, and which of them can be taken from before.

use super::pointwise::{self, FromDensity, ToDensity, ToExposure, ToScene, Unstyled, UpTo};
use super::{quick, texture};
use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::LightPath;
use lookwright_film::path::negative::grain::KeptGrain;
use lookwright_film::spatial::{Planes, Window};

/// What to make of a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// The look.
    pub look: Look,
    /// The frame's own settings.
    pub frame: Frame,
    /// What it is delivered for.
    pub delivery: Delivery,
    /// The stage after which the numbers are wanted.
    pub stage: StageId,
    /// Where the buffer lies in the whole picture.
    pub window: Window,
    /// Number of the frame in its sequence: grain and dust differ from frame to frame.
    pub frame_number: u32,
}

/// Renders without keeping anything: what the command line and saved pictures use.
pub fn render(code: Planes, job: &Job) -> Planes {
    let path = LightPath::new(&job.look, &job.frame, &job.delivery);
    let mut picture = code;
    if matches!(job.stage, StageId::Intake) || !job.look.has_texture() {
        pointwise::run(&UpTo(&path, job.stage), &mut picture);
        return picture;
    }
    for pass in Pass::ALL {
        pass.run(&mut picture, job, &path, Grain::Drawn);
        if pass.ends(job.stage) {
            break;
        }
    }
    picture
}

/// The frame as the camera saw it, written for the delivery's screen: no look at all.
pub fn unstyled(code: Planes, job: &Job) -> Planes {
    let path = LightPath::new(&job.look, &job.frame, &job.delivery);
    let mut picture = code;
    pointwise::run(&Unstyled(&path), &mut picture);
    picture
}

/// Where a picture's grain comes from.
enum Grain<'a> {
    /// It is drawn as the rows need it.
    Drawn,
    /// From a field that is kept while it serves.
    Kept(&'a mut Option<KeptGrain>),
}

/// The passes, in the order in which light meets them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pass {
    /// Code to scene light, and diffusion.
    Scene,
    /// Layer exposure, halation and softness.
    Exposure,
    /// Density, grain and dust.
    Density,
    /// Scan, print and screen.
    Finish,
}

impl Pass {
    const ALL: [Self; 4] = [Self::Scene, Self::Exposure, Self::Density, Self::Finish];

    fn run(self, picture: &mut Planes, job: &Job, path: &LightPath, grain: Grain) {
        match self {
            Self::Scene => {
                pointwise::run(&ToScene(path), picture);
                texture::diffuse(picture, job);
            }
            Self::Exposure => {
                pointwise::run(&ToExposure(path), picture);
                texture::spread(picture, job);
            }
            Self::Density => {
                pointwise::run(&ToDensity(path), picture);
                match grain {
                    Grain::Drawn => texture::grain_and_dust(picture, job),
                    Grain::Kept(kept) => texture::kept_grain_and_dust(picture, job, kept),
                }
            }
            Self::Finish => pointwise::run(&FromDensity(path, job.stage), picture),
        }
    }

    /// Whether the stage's numbers are ready after this pass.
    fn ends(self, stage: StageId) -> bool {
        match self {
            Self::Scene => matches!(stage, StageId::Intake | StageId::Lens),
            Self::Exposure => false,
            Self::Density => stage == StageId::Negative,
            Self::Finish => true,
        }
    }

    /// All that the pass's result depends on, beyond the passes before it.
    fn key(self, job: &Job) -> String {
        let Job {
            look,
            frame,
            delivery,
            window,
            frame_number,
            ..
        } = job;
        match self {
            Self::Scene => format!("{frame:?}{:?}{window:?}", look.lens),
            Self::Exposure => {
                let n = &look.negative;
                format!("{:?}{:?}{:?}", n.stock, n.halation, n.softness)
            }
            Self::Density => {
                let n = &look.negative;
                format!(
                    "{:?}{:?}{:?}{:?}{frame_number}",
                    n.development, n.interimage, n.grain, n.dust
                )
            }
            Self::Finish => format!("{:?}{:?}{delivery:?}{:?}", look.scan, look.print, job.stage),
        }
    }
}

/// Renders one picture again and again while its settings change, and keeps what can be kept.
///
/// Memory: the source, one buffer of the same size for each of the three passes before the last, and
/// one for the grain.
#[derive(Clone, Debug)]
pub struct Renderer {
    code: Planes,
    kept: Vec<(String, Planes)>,
    grain: Option<KeptGrain>,
}

impl Renderer {
    /// For a picture in its frame's code.
    pub const fn new(code: Planes) -> Self {
        Self {
            code,
            kept: Vec::new(),
            grain: None,
        }
    }

    /// The picture in its frame's code.
    pub const fn code(&self) -> &Planes {
        &self.code
    }

    /// The numbers after the job's stage. The same as [`render`] gives.
    pub fn render(&mut self, job: &Job) -> Planes {
        if job.stage == StageId::Intake {
            return render(self.code.clone(), job);
        }
        let path = LightPath::new(&job.look, &job.frame, &job.delivery);
        let mut key = String::new();
        for (place, pass) in Pass::ALL.into_iter().enumerate() {
            key.push_str(&pass.key(job));
            let fresh = self.kept.get(place).is_some_and(|(kept, _)| *kept == key);
            if !fresh {
                self.kept.truncate(place);
                let before = place.checked_sub(1).map_or(&self.code, |i| &self.kept[i].1);
                let mut picture = before.clone();
                pass.run(&mut picture, job, &path, Grain::Kept(&mut self.grain));
                if pass == Pass::Finish {
                    return picture;
                }
                self.kept.push((key.clone(), picture));
            }
            if pass.ends(job.stage) {
                return self.kept[place].1.clone();
            }
        }
        self.code.clone()
    }

    /// As [`Self::render`], but what follows the negative within one step of 8 bits in nearly all
    /// pixels, and several times as fast: for looking at while a control moves.
    pub fn render_quickly(&mut self, job: &Job) -> Planes {
        let follows = matches!(job.stage, StageId::Scan | StageId::Print | StageId::Screen);
        if !follows || self.code.pixels() < quick::WORTHWHILE {
            return self.render(job);
        }
        let mut picture = self.render(&Job {
            stage: StageId::Negative,
            ..job.clone()
        });
        let path = LightPath::new(&job.look, &job.frame, &job.delivery);
        match quick::from_density(&mut picture, &path, job.stage) {
            Ok(()) => picture,
            Err(_) => self.render(job),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::StockClass;

    fn ramp() -> Planes {
        let mut picture = Planes::filled(64, 8, 0.0);
        for (channel, plane) in picture.planes.iter_mut().enumerate() {
            for (i, value) in plane.iter_mut().enumerate() {
                *value = ((i * (channel + 3)) % 97) as f32 / 96.0;
            }
        }
        picture
    }

    fn job(stage: StageId) -> Job {
        Job {
            look: Look::starting(StockClass::Tungsten500),
            frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
            delivery: Delivery::default(),
            stage,
            window: Window::whole(64, 8),
            frame_number: 3,
        }
    }

    #[test]
    fn what_is_kept_is_what_would_be_rendered() {
        use lookwright_film::look::Options;
        let mut renderer = Renderer::new(ramp());
        let mut job = job(StageId::Screen);
        for change in 0..6 {
            match change {
                1 => job.look.scan.contrast.slope = 2.0,
                2 => {
                    job.look.negative.development.push = 1.0;
                    job.frame_number = 4;
                }
                3 => job.look.lens.exposure.stops = -1.0,
                4 => job.look.negative.grain.on = false,
                5 => job.look.negative.halation.on = false,
                _ => {}
            }
            for stage in StageId::ALL {
                job.stage = *stage;
                assert_eq!(
                    renderer.render(&job),
                    render(ramp(), &job),
                    "{change} {stage:?}"
                );
            }
        }
    }

    #[test]
    fn the_quick_way_is_within_a_step_of_8_bits_in_999_of_1000_pixels() {
        // Every code of a wide range in turn, so all colours that a camera can record.
        let (width, height) = (500, 300);
        let mut picture = Planes::filled(width, height, 0.0);
        for (channel, plane) in picture.planes.iter_mut().enumerate() {
            for (i, value) in plane.iter_mut().enumerate() {
                let (x, y) = ((i % width) as f32 / 500.0, (i / width) as f32 / 300.0);
                let apart = [0.0, 0.35, 0.7][channel];
                *value = 0.1 + 0.7 * x + 0.12 * libm::sinf(core::f32::consts::TAU * (y + apart));
            }
        }
        for class in [StockClass::Tungsten500, StockClass::Daylight50] {
            let mut job = Job {
                look: Look::starting(class),
                window: Window::whole(width, height),
                ..job(StageId::Screen)
            };
            job.look.scan.dye_density.whole = 0.3;
            job.look.scan.contrast.slope = 1.9;
            let mut renderer = Renderer::new(picture.clone());
            let quick = renderer.render_quickly(&job);
            let exact = renderer.render(&job);
            let mut off: Vec<f32> = (0..width * height)
                .map(|i| {
                    let apart = |c: usize| (quick.planes[c][i] - exact.planes[c][i]).abs();
                    apart(0).max(apart(1)).max(apart(2)) * 255.0
                })
                .collect();
            off.sort_by(f32::total_cmp);
            let bound = off[off.len() * 999 / 1000];
            assert!(bound < 1.0 && bound > 0.0, "{class:?}: {bound}");
        }
    }

    #[test]
    fn the_fused_path_is_the_split_path() {
        // Without texture everything is one pass; the same steps in four passes give the same.
        let mut job = job(StageId::Screen);
        job.look = job.look.without_texture();
        assert_eq!(Renderer::new(ramp()).render(&job), render(ramp(), &job));
    }
}
