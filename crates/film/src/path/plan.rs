//! The plan: what is done to a picture on its way, in order. Here, and nowhere else, stands the
//! order of the light path.
//!
//! A [`Node`] is one thing that is done. Each step's file makes its own ([`Spreading`], [`Moving`] and
//! [`Overlay`] are written beside the formula); what maps one pixel to one pixel is a
//! [`PointPart`], and those that follow each other run as one. Whoever renders walks the plan and
//! knows no step by name.
//!
//! A node's key is a hash of what it was made from: the prepared step itself. So it holds all
//! parameters that the step uses, and none of those that it doesn't.

mod key;

use core::fmt::Debug;
use core::hash::Hasher;
use std::hash::DefaultHasher;
use std::sync::Arc;

use key::key_of;

use super::LightPath;
use super::lens::{diffusion, fringe, vignette, weave};
use super::negative::gauge::FilmScale;
use super::negative::grain::KeptGrain;
use super::negative::{dust, edge, flicker, grain, halation, softness};
use super::point::{PointPart, Points};
use crate::look::{Delivery, Frame, Gauge, Look, StageId};
use crate::spatial::moved::{Move, margin_px};
use crate::spatial::step::SpreadStep;
use crate::spatial::{Planes, Window};

/// All that is done to a picture up to a stage, in order.
#[derive(Debug)]
pub struct Plan {
    path: Arc<LightPath>,
    nodes: Vec<Node>,
    gauge: Gauge,
}

/// One thing that is done to a picture.
#[derive(Debug)]
pub struct Node {
    /// The step's key in files; a point part's name.
    pub step: &'static str,
    /// The stage that it belongs to.
    pub stage: StageId,
    /// What is done.
    pub action: Action,
    key: u64,
}

/// What a node does.
#[derive(Debug)]
pub enum Action {
    /// To each pixel by itself.
    Point(PointPart),
    /// To each pixel and those around it.
    Spread(Box<dyn Spreading>),
    /// The picture lies elsewhere.
    Move(Box<dyn Moving>),
    /// To each pixel by its place on the film.
    Overlay(Box<dyn Overlay>),
}

/// How far a step reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// In micrometres on the film.
    Um(f64),
    /// In parts of the picture's diagonal.
    OfDiagonal(f64),
}

/// How a step that spreads runs while a clip plays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InMotion {
    /// On a copy of half the size: what it adds varies slowly.
    Halved,
    /// As one Gaussian per layer, of this variance in square pixels along each axis.
    Gaussian([f64; 3]),
}

/// A step that spreads light or what develops it.
pub trait Spreading: Debug + Send + Sync {
    /// The radius that holds all but about 1 % of what it spreads.
    fn reach(&self) -> Reach;
    /// The step for a whole picture of `size`, columns by rows; none where nothing would show.
    fn step(&self, size: (usize, usize), window: &Window) -> Option<Box<dyn SpreadStep>>;
    /// How it runs while a clip plays.
    fn in_motion(&self, window: &Window) -> InMotion;
}

/// A step that moves the picture, channel by channel.
pub trait Moving: Debug + Send + Sync {
    /// Farthest that anything is moved in any frame, in micrometres on the film.
    fn most_um(&self) -> f64;
    /// The moves of a frame of this number, in pixels of the window's scale.
    fn moves(&self, window: &Window, frame_number: u32) -> [Move; 3];
    /// Whether frames differ.
    fn is_numbered(&self) -> bool;
}

/// A step that lies over the film, each place of it as its number in the sequence draws it.
pub trait Overlay: Debug + Send + Sync {
    /// Lays it over the part of a picture that `window` says, in place; every part comes out as in
    /// the whole.
    fn lay(&self, picture: &mut Planes, window: &Window, frame_number: u32);
    /// A field that does the same again and again, where keeping one spares work. What can be
    /// used of `before` is.
    fn field(
        &self,
        size: (usize, usize),
        window: &Window,
        frame_number: u32,
        before: Option<KeptGrain>,
    ) -> Option<KeptGrain> {
        let _ = (size, window, frame_number, before);
        None
    }
}

/// A step's parameters, on film of a gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnFilm<P> {
    /// The film's format.
    pub gauge: Gauge,
    /// What the step needs besides.
    pub params: P,
}

impl<P> OnFilm<P> {
    /// How the film's micrometres map to the window's pixels.
    pub fn scale(&self, window: &Window) -> FilmScale {
        FilmScale::of(self.gauge, window)
    }
}

/// Some nodes that are done in one go: point parts, fused, and what follows them.
#[derive(Clone, Copy, Debug)]
pub struct Pass<'a> {
    /// What each pixel goes through by itself, which may be nothing.
    pub points: Points,
    /// What is done then, without point parts.
    pub nodes: &'a [Node],
    /// A hash of all parameters of the pass.
    pub key: u64,
}

impl Plan {
    /// The plan of a look, for a frame and a delivery, up to a stage. Of a look whose steps are all off,
    /// what comes to the screen is [`Plan::unstyled`].
    pub fn of(look: &Look, frame: &Frame, delivery: &Delivery, stage: StageId) -> Self {
        if stage == StageId::Screen && look.is_bypassed() {
            return Self::unstyled(frame, delivery);
        }
        let path = Arc::new(LightPath::new(look, frame, delivery));
        let (lens, negative) = (&look.lens, &look.negative);
        if path.is_of_scan() {
            return Self::of_scan(path, stage, negative.stock.gauge);
        }
        let nodes = [
            point(PointPart::Intake, &path.intake),
            point(PointPart::Lens, &path.lens),
            spread("diffusion", StageId::Lens, diffusion::node(lens)),
            moving("fringe", StageId::Lens, fringe::node(lens, negative)),
            overlay("vignette", StageId::Lens, vignette::node(lens)),
            moving("weave", StageId::Lens, weave::node(lens, negative)),
            point(PointPart::Expose, &path.negative.exposing()),
            spread("halation", StageId::Negative, halation::node(negative)),
            spread("softness", StageId::Negative, softness::node(negative)),
            point(PointPart::Develop, &path.negative.developing()),
            spread("edge", StageId::Negative, edge::node(negative)),
            overlay("grain", StageId::Negative, grain::node(negative)),
            overlay("dust", StageId::Negative, dust::node(negative)),
            overlay("flicker", StageId::Negative, flicker::node(negative)),
            point(PointPart::Scan, &path.scan),
            point(PointPart::Print, &path.print),
            point(PointPart::Screen, &path.screen),
        ];
        let wanted = |node: &Node| node.stage as usize <= stage as usize;
        Self {
            path,
            nodes: nodes.into_iter().flatten().filter(wanted).collect(),
            gauge: negative.stock.gauge,
        }
    }

    /// The plan of a film scan, which comes in behind lens and negative. Up to the lens it is only read as
    /// light.
    fn of_scan(path: Arc<LightPath>, stage: StageId, gauge: Gauge) -> Self {
        let points = Points::of_scan(stage);
        let nodes = [
            point(PointPart::Intake, &path.intake),
            point(PointPart::Enter, &path.entry),
            point(PointPart::Scan, &path.scan),
            point(PointPart::Print, &path.print),
            point(PointPart::Screen, &path.screen),
        ];
        let wanted = |node: &Node| matches!(node.action, Action::Point(part) if points.has(part));
        Self {
            path,
            nodes: nodes.into_iter().flatten().filter(wanted).collect(),
            gauge,
        }
    }

    /// The frame as the camera saw it, written for the delivery's screen: no look at all.
    pub fn unstyled(frame: &Frame, delivery: &Delivery) -> Self {
        let path = Arc::new(LightPath::new(&Look::default(), frame, delivery));
        let nodes = [
            point(PointPart::Intake, &path.intake),
            point(PointPart::Show, &path.screen),
        ];
        Self {
            path,
            nodes: nodes.into_iter().flatten().collect(),
            gauge: Gauge::Super35,
        }
    }

    /// What the point parts run on.
    pub fn path(&self) -> &Arc<LightPath> {
        &self.path
    }

    /// What is done, in order.
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// The node of a step, if it acts.
    pub fn node(&self, step: &str) -> Option<&Node> {
        self.nodes.iter().find(|node| node.step == step)
    }

    /// How many pixels around a pixel light comes to it from, but for about 1 % of what each step
    /// spreads.
    pub fn reach_px(&self, window: &Window) -> f64 {
        let um = FilmScale::of(self.gauge, window);
        let reach = |node: &Node| match &node.action {
            Action::Spread(spreading) => match spreading.reach() {
                Reach::Um(reach) => um.px(reach),
                Reach::OfDiagonal(share) => share * window.diagonal_px(),
            },
            Action::Move(moving) => um.px(moving.most_um()),
            Action::Point(_) | Action::Overlay(_) => 0.0,
        };
        self.nodes.iter().map(reach).sum()
    }

    /// Rows and columns around a part that a step which moves the picture needs, for every frame.
    pub fn margin_of(&self, moving: &dyn Moving, window: &Window) -> usize {
        margin_px(FilmScale::of(self.gauge, window).px(moving.most_um()))
    }

    /// The point parts that make the stage's numbers of the developed film, if the last pass is
    /// nothing but them.
    pub fn finish(&self) -> Option<Points> {
        match self.passes()[..] {
            [.., film, last] if film.points.have_film() && last.nodes.is_empty() => {
                Some(last.points)
            }
            _ => None,
        }
    }

    /// The same in passes: each ends where pixels around or the place on film come in, and with the
    /// developed film, which is where grading begins.
    pub fn passes(&self) -> Vec<Pass<'_>> {
        let mut passes = Vec::new();
        let mut rest = &self.nodes[..];
        while !rest.is_empty() {
            let mut points = Points::NONE;
            let mut end = 0;
            while let Some(Node {
                action: Action::Point(part),
                ..
            }) = rest.get(end)
            {
                points = points.and(*part);
                end += 1;
                if part.makes_film() {
                    break;
                }
            }
            let first = end;
            while matches!(rest.get(end), Some(node) if !node.is_point()) {
                end += 1;
            }
            let (pass, after) = rest.split_at(end);
            let mut hasher = DefaultHasher::new();
            pass.iter().for_each(|node| hasher.write_u64(node.key));
            passes.push(Pass {
                points,
                nodes: &pass[first..],
                key: hasher.finish(),
            });
            rest = after;
        }
        passes
    }
}

impl Pass<'_> {
    /// Whether what the pass gives is worth keeping for the next time: where more was done than
    /// point by point, and where grading begins.
    pub const fn is_worth_keeping(&self) -> bool {
        !self.nodes.is_empty() || self.points.have_film()
    }
}

impl Node {
    /// A hash of exactly the parameters that the node uses.
    pub const fn key(&self) -> u64 {
        self.key
    }

    /// Whether it does something to each pixel by itself.
    pub const fn is_point(&self) -> bool {
        matches!(self.action, Action::Point(_))
    }

    /// Whether it depends on the frame's number in its sequence.
    pub fn is_numbered(&self) -> bool {
        match &self.action {
            Action::Overlay(_) => true,
            Action::Move(moving) => moving.is_numbered(),
            Action::Point(_) | Action::Spread(_) => false,
        }
    }
}

fn point(part: PointPart, prepared: &dyn Debug) -> Option<Node> {
    let action = |_| Action::Point(part);
    node(part.name(), part.stage(), Some(prepared), action)
}

fn spread<S: Spreading + 'static>(
    step: &'static str,
    stage: StageId,
    prepared: Option<S>,
) -> Option<Node> {
    node(step, stage, prepared, |it| Action::Spread(Box::new(it)))
}

fn moving<S: Moving + 'static>(
    step: &'static str,
    stage: StageId,
    prepared: Option<S>,
) -> Option<Node> {
    node(step, stage, prepared, |it| Action::Move(Box::new(it)))
}

fn overlay<S: Overlay + 'static>(
    step: &'static str,
    stage: StageId,
    prepared: Option<S>,
) -> Option<Node> {
    node(step, stage, prepared, |it| Action::Overlay(Box::new(it)))
}

fn node<S: Debug>(
    step: &'static str,
    stage: StageId,
    prepared: Option<S>,
    action: impl FnOnce(S) -> Action,
) -> Option<Node> {
    prepared.map(|prepared| Node {
        step,
        stage,
        key: key_of(step, &prepared),
        action: action(prepared),
    })
}

#[cfg(test)]
mod tests;
