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
use crate::{Detail, Job, PictureRows, Renderer};
use core::ops::Range;
use lookwright_film::look::StageId;
use lookwright_film::path::negative::StockData;
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
    if job.stage == StageId::Intake {
        return renderer.unstyled(job);
    }
    let mut picture = render(renderer, &viewed(job));
    show(&mut picture, job);
    picture
}

/// Parts of a picture at full size as it leaves the job's stage, in screen code, 0 to 1.
pub struct DetailView {
    job: Job,
    detail: Detail,
}

impl DetailView {
    /// For a picture of `size`, columns by rows. What has most in common with it is results from
    /// `before` and used.
    pub fn new(size: (usize, usize), job: &Job, before: &mut Vec<Self>) -> Self {
        let plan = match job.stage {
            StageId::Intake => job.unstyled_plan(),
            _ => viewed(job).plan(),
        };
        let mut detail = Detail::new(size, job, plan);
        let in_common = |i: &usize| before[*i].detail.in_common(&detail);
        let nearest = (0..before.len()).max_by_key(in_common);
        if let Some(nearest) = nearest.filter(|i| in_common(i) > 0) {
            detail.take_over(before.swap_remove(nearest).detail);
        }
        Self {
            job: job.clone(),
            detail,
        }
    }

    /// A part, if it is ready; if not, does some of what has to be done before. See [`Detail`].
    pub fn part(
        &mut self,
        source: &impl PictureRows,
        columns: Range<usize>,
        rows: Range<usize>,
    ) -> Option<Planes> {
        self.detail.prepare(source);
        let mut picture = self.detail.part(source, columns, rows)?;
        show(&mut picture, &self.job);
        Some(picture)
    }
}

/// The job whose numbers are looked at: the print's display code is the reference display's; the
/// screen may want another.
fn viewed(job: &Job) -> Job {
    let stage = match job.stage {
        StageId::Print => StageId::Screen,
        stage => stage,
    };
    Job {
        stage,
        ..job.clone()
    }
}

/// A stage's numbers as they are looked at, in place.
fn show(picture: &mut Planes, job: &Job) {
    match job.stage {
        StageId::Lens => {
            let path = LightPath::new(&job.look, &job.frame, &job.delivery);
            let show = Points::only(PointPart::Show);
            Along(&path, show).run(picture);
        }
        StageId::Negative => {
            let masked = !StockData::of(&job.look.negative.stock).one_emulsion();
            pointwise::run(&LightTable { masked }, picture);
        }
        StageId::Intake | StageId::Scan | StageId::Print | StageId::Screen => {}
    }
}
