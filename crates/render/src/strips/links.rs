//! What is done to a picture up to a stage, link by link.

use std::sync::Arc;

use super::super::plan::Job;
use super::super::pointwise::{self, FromDensity, ToDensity, ToExposure, ToScene, Unstyled, UpTo};
use super::super::texture;
use lookwright_film::look::StageId;
use lookwright_film::path::LightPath;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::step::{Coarse, SpreadStep, is_wide};

/// Something done to a picture.
pub(super) enum Link {
    /// To each pixel by itself.
    Point(Box<dyn Fn(&mut Planes) + Sync>),
    /// To each pixel by its place: grain and dust.
    Place,
    /// To each pixel and those around it.
    Spread(Box<dyn SpreadStep>, Coarse),
}

impl Link {
    fn point(
        path: &Arc<LightPath>,
        run: impl Fn(&LightPath, &mut Planes) + Sync + 'static,
    ) -> Self {
        let path = path.clone();
        Self::Point(Box::new(move |picture| run(&path, picture)))
    }

    /// Whether it depends on pixels around.
    pub(super) fn spreads(&self) -> bool {
        matches!(self, Self::Spread(..))
    }

    /// Whether it depends on more pixels around than strips bring along.
    pub(super) fn is_wide(&self) -> bool {
        matches!(self, Self::Spread(step, _) if is_wide(step.as_ref()))
    }
}

/// What is done up to the job's stage, in order, to a picture of `width` by `height` pixels.
pub(super) fn links((width, height): (usize, usize), job: &Job) -> Vec<Link> {
    let path = Arc::new(LightPath::new(&job.look, &job.frame, &job.delivery));
    let stage = job.stage;
    if stage == StageId::Intake || !job.look.has_texture() {
        return vec![Link::point(&path, move |path, picture| {
            pointwise::run(&UpTo(path, stage), picture);
        })];
    }
    let [diffusion, halation, softness] = texture::spread_steps(job, width, height)
        .map(|step| step.map(|step| Link::Spread(step, Coarse::NONE)));
    let mut links = vec![Link::point(&path, |path, p| {
        pointwise::run(&ToScene(path), p);
    })];
    links.extend(diffusion);
    if stage == StageId::Lens {
        return links;
    }
    links.push(Link::point(&path, |path, p| {
        pointwise::run(&ToExposure(path), p);
    }));
    links.extend(halation.into_iter().chain(softness));
    links.push(Link::point(&path, |path, p| {
        pointwise::run(&ToDensity(path), p);
    }));
    links.push(Link::Place);
    if stage != StageId::Negative {
        links.push(Link::point(&path, move |path, p| {
            pointwise::run(&FromDensity(path, stage), p);
        }));
    }
    links
}

/// What is done without any look; see [`super::super::unstyled`].
pub(super) fn unstyled_links(job: &Job) -> Vec<Link> {
    let path = Arc::new(LightPath::new(&job.look, &job.frame, &job.delivery));
    vec![Link::point(&path, |path, p| {
        pointwise::run(&Unstyled(path), p);
    })]
}
