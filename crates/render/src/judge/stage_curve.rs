//! What a stage makes of greys: its curve, as a lesson draws it.

use lookwright_colour::Rgb;
use lookwright_film::look::StageId;
use lookwright_film::path::negative::GREY_SCENE_LIN;
use lookwright_film::path::{LightPath, PointPart};

use super::stage_axis::StageAxis;

/// Stops of light about mid-grey that a curve goes over.
const REACH: f64 = 8.0;

/// A curve over what comes in.
#[derive(Clone, Debug, PartialEq)]
pub struct StageCurve {
    /// What comes in: of the intake, the file's code in percent; of all others, scene light in stops
    /// from mid-grey.
    pub across: Vec<f64>,
    /// What leaves the stage, in the unit of its [`StageAxis`].
    pub up: Vec<f64>,
}

/// The curve of a stage on greys, its green or middle layer, without texture.
#[must_use]
pub fn stage_curve(path: &LightPath, stage: StageId, samples: usize) -> StageCurve {
    let axis = StageAxis::of(stage);
    let last = samples.saturating_sub(1).max(1) as f64;
    let places = (0..samples).map(|i| i as f64 / last);
    if stage == StageId::Intake {
        let up = |code: f64| axis.reading(path.up_to(stage, Rgb::grey(code as f32)).g);
        return StageCurve {
            across: places.clone().map(|code| code * 100.0).collect(),
            up: places.map(up).collect(),
        };
    }
    let points = path.points_up_to(stage).without(PointPart::Intake);
    let across: Vec<f64> = places.map(|place| (2.0 * place - 1.0) * REACH).collect();
    let up = |stops: &f64| {
        let light = Rgb::grey((GREY_SCENE_LIN * libm::exp2(*stops)) as f32);
        axis.reading(path.pixel_along(points, light).g)
    };
    StageCurve {
        up: across.iter().map(up).collect(),
        across,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::EncodingId;
    use lookwright_film::look::{Delivery, Frame, Look, StartingStock};

    const SAMPLES: usize = 161;

    fn path() -> LightPath {
        let mut look = Look::starting(StartingStock::Overcast);
        look.lens.exposure.stops = 1.0;
        let mut frame = Frame::default();
        frame.source.encoding = EncodingId::LogC3;
        LightPath::new(&look, &frame, &Delivery::default())
    }

    fn at(curve: &StageCurve, across: f64) -> f64 {
        let i = curve.across.iter().position(|x| (x - across).abs() < 1e-9);
        curve.up[i.unwrap()]
    }

    #[test]
    fn the_intake_undoes_the_cameras_curve() {
        // LogC3 at EI 800: 18 % lies at code 0.391007 (ARRI, ALEXA Log C Curve, 2017).
        let curve = stage_curve(&path(), StageId::Intake, 1001);
        let (below, above) = (at(&curve, 39.1), at(&curve, 39.2));
        assert!(
            below < 0.002 && above > 0.0 && above < 0.03,
            "{below} {above}"
        );
    }

    #[test]
    fn the_lens_adds_its_stop_and_the_negative_its_gamma() {
        let lens = stage_curve(&path(), StageId::Lens, SAMPLES);
        for stops in [-3.0, 0.0, 3.0] {
            assert!((at(&lens, stops) - stops - 1.0).abs() < 1e-4);
        }
        // The stated gamma is that of the line from mid-grey to the 90 % card, log10(5) above; the lens
        // is a stop open here.
        let negative = stage_curve(&path(), StageId::Negative, SAMPLES);
        let slope = (at(&negative, 1.3) - at(&negative, -1.0)) / (2.3 * core::f64::consts::LOG10_2);
        let gamma = 0.60;
        assert!((slope - gamma).abs() < 0.02, "{slope}");
        assert!(negative.up.is_sorted());
    }
}
