//! A plan's nodes as they are done strip by strip.

use lookwright_film::path::plan::{Action, Plan};
use lookwright_film::path::{PointPart, Points};
use lookwright_film::spatial::Window;
use lookwright_film::spatial::step::{Coarse, SpreadStep, is_wide};

/// Something done to a picture.
pub(super) enum Link {
    /// To each pixel by itself.
    Point(Points),
    /// To each pixel by its place: the plan's node of that number.
    Overlay(usize),
    /// To each pixel and those around it.
    Spread(Box<dyn SpreadStep>, Coarse),
}

impl Link {
    /// Whether it depends on pixels around.
    pub(super) const fn spreads(&self) -> bool {
        matches!(self, Self::Spread(..))
    }

    /// Whether it depends on more pixels around than strips bring along.
    pub(super) fn is_wide(&self) -> bool {
        matches!(self, Self::Spread(step, _) if is_wide(step.as_ref()))
    }
}

/// What a plan does to a picture of `size`, columns by rows, in order.
pub(super) fn links(size: (usize, usize), plan: &Plan, window: &Window) -> Vec<Link> {
    let mut links = Vec::new();
    for (number, node) in plan.nodes().iter().enumerate() {
        match &node.action {
            Action::Point(part) => add_point(&mut links, *part),
            Action::Spread(spreading) => {
                let step = spreading.step(size, window);
                links.extend(step.map(|step| Link::Spread(step, Coarse::NONE)));
            }
            Action::Overlay(_) => links.push(Link::Overlay(number)),
        }
    }
    links
}

/// Points that follow each other are done in one go.
fn add_point(links: &mut Vec<Link>, part: PointPart) {
    match links.last_mut() {
        Some(Link::Point(points)) => *points = points.and(part),
        _ => links.push(Link::Point(Points::only(part))),
    }
}
