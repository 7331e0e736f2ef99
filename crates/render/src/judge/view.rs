//! What a person sees of the picture as it leaves each stage.
//!
//! ```text
//! intake            as the camera saw it: scene light written for the screen
//! lens              the same, behind the lens
//! negative          on a light table
//! scan              its code, shown as it is
//! print, screen     the screen's code
//! ```

use super::LightTable;
use crate::pointwise::{self, Along};
use crate::{Job, Renderer, unstyled};
use lookwright_film::look::{StageId, StockClass};
use lookwright_film::path::{LightPath, PointPart, Points};
use lookwright_film::spatial::Planes;

/// The picture as it leaves the job's stage, in screen code, 0 ... 1.
pub fn view(renderer: &mut Renderer, job: &Job) -> Planes {
    look_at(renderer, job, Renderer::render)
}

/// As [`view`], the quick way: see [`Renderer::render_quickly`].
pub fn quick_view(renderer: &mut Renderer, job: &Job) -> Planes {
    look_at(renderer, job, Renderer::render_quickly)
}

fn look_at(
    renderer: &mut Renderer,
    job: &Job,
    render: impl Fn(&mut Renderer, &Job) -> Planes,
) -> Planes {
    match job.stage {
        StageId::Intake => unstyled(renderer.code().clone(), job),
        StageId::Lens => {
            let mut picture = render(renderer, job);
            let path = LightPath::new(&job.look, &job.frame, &job.delivery);
            let show = Points::only(PointPart::Show);
            pointwise::run(&Along(&path, show), &mut picture);
            picture
        }
        StageId::Negative => {
            let mut picture = render(renderer, job);
            let masked = job.look.negative.stock.class != StockClass::Panchromatic250;
            pointwise::run(&LightTable { masked }, &mut picture);
            picture
        }
        StageId::Scan => render(renderer, job),
        // The print's display code is the reference display's; the screen may want another.
        StageId::Print | StageId::Screen => {
            let stage = StageId::Screen;
            render(
                renderer,
                &Job {
                    stage,
                    ..job.clone()
                },
            )
        }
    }
}
