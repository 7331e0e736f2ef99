//! A plan's nodes as they are done strip by strip.

use lookwright_film::path::Points;
use lookwright_film::path::plan::{Action, Plan};
use lookwright_film::spatial::Window;
use lookwright_film::spatial::step::{Coarse, SpreadStep, margin, wide_layers};

/// Something done to a picture.
pub(crate) enum Link {
    /// To each pixel by itself.
    Point(Points),
    /// To each pixel by its place: the plan's node of that number.
    Overlay(usize),
    /// The picture lies elsewhere: the plan's node of that number, and the rows and columns around a part
    /// that it depends on.
    Move(usize, usize),
    /// To each pixel and those around it.
    Spread(Box<dyn SpreadStep>, Coarse),
}

impl Link {
    /// Whether it depends on pixels around.
    pub(crate) const fn spreads(&self) -> bool {
        matches!(self, Self::Spread(..) | Self::Move(..))
    }

    /// Rows around a strip that it depends on.
    pub(crate) fn margin(&self) -> usize {
        match self {
            Self::Move(_, margin) => *margin,
            Self::Spread(..) | Self::Point(_) | Self::Overlay(_) => self.padding(),
        }
    }

    /// Pixels on every side that are added to a strip of what it spreads.
    pub(crate) fn padding(&self) -> usize {
        match self {
            Self::Spread(step, _) => margin(step.as_ref()),
            Self::Point(_) | Self::Overlay(_) | Self::Move(..) => 0,
        }
    }

    /// Whether it depends on more pixels around than strips bring along.
    pub(crate) fn is_wide(&self) -> bool {
        self.wide_layers() > 0
    }

    /// How many layers of it do.
    pub(crate) fn wide_layers(&self) -> usize {
        match self {
            Self::Spread(step, _) => wide_layers(step.as_ref()),
            Self::Point(_) | Self::Overlay(_) | Self::Move(..) => 0,
        }
    }
}

/// A plan's links, in order.
pub(crate) struct Links {
    pub(crate) links: Vec<Link>,
    /// How many of the plan's nodes are done after each.
    pub(crate) ends: Vec<usize>,
}

impl Links {
    /// What a plan does to a picture of `size`, columns by rows.
    pub(crate) fn new(size: (usize, usize), plan: &Plan, window: &Window) -> Self {
        let mut all = Self {
            links: Vec::new(),
            ends: Vec::new(),
        };
        for (number, node) in plan.nodes().iter().enumerate() {
            match (&node.action, all.links.last_mut()) {
                // Points that follow each other are done in one go.
                (Action::Point(part), Some(Link::Point(points))) => *points = points.and(*part),
                (Action::Point(part), _) => all.links.push(Link::Point(Points::only(*part))),
                (Action::Spread(spreading), _) => {
                    let step = spreading.step(size, window);
                    let link = step.map(|step| Link::Spread(step, Coarse::NONE));
                    all.links.extend(link);
                }
                (Action::Move(moving), _) => {
                    let margin = plan.margin_of(moving.as_ref(), window);
                    all.links.push(Link::Move(number, margin));
                }
                (Action::Overlay(_), _) => all.links.push(Link::Overlay(number)),
            }
            all.ends.resize(all.links.len(), number + 1);
            if let Some(end) = all.ends.last_mut() {
                *end = number + 1;
            }
        }
        all
    }
}
