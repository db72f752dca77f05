//! A step of the sewing and what its small picture shows. Shapes are in the garment's own millimetres, y down; whoever
//! draws them scales them. Knows no paper.

use kurbo::{Affine, BezPath, Rect, Shape};

/// Which side of the cloth one looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    Right,
    Wrong,
    Lining,
}

/// A part as it lies in the picture; later ones cover earlier ones.
#[derive(Clone, Debug)]
pub struct Shown {
    pub path: BezPath,
    pub side: Side,
}

/// What a step shows.
#[derive(Clone, Debug, Default)]
pub struct Picture {
    pub parts: Vec<Shown>,
    /// Sewn before.
    pub done: Vec<BezPath>,
    /// Sewn in this step.
    pub now: Vec<BezPath>,
    /// Folded or pressed in this step.
    pub folds: Vec<BezPath>,
}

impl Picture {
    pub(super) fn part(mut self, side: Side, path: BezPath) -> Picture {
        self.parts.push(Shown { path, side });
        self
    }
    pub(super) fn parts(mut self, side: Side, paths: impl IntoIterator<Item = BezPath>) -> Picture {
        self.parts.extend(paths.into_iter().map(|path| Shown { path, side }));
        self
    }
    pub(super) fn done(mut self, paths: impl IntoIterator<Item = BezPath>) -> Picture {
        self.done.extend(paths);
        self
    }
    pub(super) fn now(mut self, paths: impl IntoIterator<Item = BezPath>) -> Picture {
        self.now.extend(paths);
        self
    }
    pub(super) fn folds(mut self, paths: impl IntoIterator<Item = BezPath>) -> Picture {
        self.folds.extend(paths);
        self
    }
    /// Bounds of everything shown; `None` when nothing is.
    pub fn bounds(&self) -> Option<Rect> {
        let all = self.parts.iter().map(|p| &p.path).chain(&self.done).chain(&self.now).chain(&self.folds);
        all.map(|p| p.bounding_box()).reduce(|a, b| a.union(b))
    }
    /// Everything moved by `map`.
    pub fn placed(mut self, map: Affine) -> Picture {
        let parts = self.parts.iter_mut().map(|p| &mut p.path);
        for path in parts.chain(&mut self.done).chain(&mut self.now).chain(&mut self.folds) {
            path.apply_affine(map);
        }
        self
    }
}

/// One step of the sewing.
#[derive(Clone, Debug)]
pub struct Step {
    pub title: String,
    /// What to do, in short sentences.
    pub text: String,
    pub picture: Picture,
    /// Where the work can hurt or spoil the piece.
    pub caution: Option<String>,
}
