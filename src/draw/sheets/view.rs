//! A machine's own millimetres, y or z up, put on the paper at a scale: what every machine sheet draws through.

use kurbo::{Point, Rect, Shape};

use crate::draw::sheet::{Draw, Fill, Line, through};
use crate::machine::loom::Stuff;
use crate::machine::shape::Outline;
use crate::units::ruler::Ruler;

/// Scales a drawing is made at, largest first.
const SCALES: [f64; 16] =
    [10.0, 5.0, 4.0, 2.0, 1.0, 1.0 / 1.5, 0.5, 0.4, 1.0 / 3.0, 0.25, 0.2, 1.0 / 6.0, 0.125, 0.1, 1.0 / 15.0, 0.05];

/// The largest of the usual scales at which a thing fits into a room (all mm).
pub(super) fn fitting(thing: (f64, f64), room: (f64, f64)) -> f64 {
    let fits = |s: &&f64| thing.0 * **s <= room.0 && thing.1 * **s <= room.1;
    SCALES.iter().find(fits).copied().unwrap_or(0.025)
}

/// Where the thing's origin lies on the paper, and at what scale it is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    pub origin: Point,
    pub scale: f64,
    /// What lengths are written by.
    ruler: Ruler,
}

impl View {
    pub fn new(x: f64, y: f64, scale: f64) -> Self {
        View { origin: Point::new(x, y), scale, ruler: Ruler::default() }
    }
    /// The same with lengths written by a ruler.
    pub fn written(self, ruler: Ruler) -> Self {
        View { ruler, ..self }
    }
    /// A length of the thing as this drawing prints it, without its unit.
    pub fn len(&self, value: f64) -> String {
        self.ruler.bare(value)
    }
    /// A point of the thing on the paper; the thing's second axis goes up.
    pub fn at(&self, x: f64, up: f64) -> Point {
        Point::new(self.origin.x + x * self.scale, self.origin.y - up * self.scale)
    }
    /// A rectangle between two corners.
    pub fn rect(&self, from: (f64, f64), to: (f64, f64)) -> Rect {
        Rect::from_points(self.at(from.0, from.1), self.at(to.0, to.1))
    }
    /// A filled part with its edge.
    pub fn part(&self, draw: &mut impl Draw, fill: Fill, from: (f64, f64), to: (f64, f64)) {
        draw.area(fill, Some(Line::Outline), self.rect(from, to).to_path(0.1));
    }
    /// An edge only.
    pub fn edge(&self, draw: &mut impl Draw, line: Line, from: (f64, f64), to: (f64, f64)) {
        draw.rect(line, self.rect(from, to));
    }
    /// A line.
    pub fn line(&self, draw: &mut impl Draw, line: Line, from: (f64, f64), to: (f64, f64)) {
        draw.line(line, self.at(from.0, from.1), self.at(to.0, to.1));
    }
    /// A trace through points.
    pub fn trace(&self, draw: &mut impl Draw, line: Line, points: &[(f64, f64)]) {
        draw.trace(line, points.iter().map(|p| self.at(p.0, p.1)));
    }
    /// A closed, filled area.
    pub fn polygon(&self, draw: &mut impl Draw, fill: Fill, line: Option<Line>, points: &[(f64, f64)]) {
        draw.polygon(fill, line, points.iter().map(|p| self.at(p.0, p.1)));
    }
    /// A disc with its edge.
    pub fn disc(&self, draw: &mut impl Draw, fill: Fill, middle: (f64, f64), radius: f64) {
        let circle = kurbo::Circle::new(self.at(middle.0, middle.1), radius * self.scale);
        draw.area(fill, Some(Line::Outline), circle.to_path(0.01));
    }
    /// A circle.
    pub fn circle(&self, draw: &mut impl Draw, line: Line, middle: (f64, f64), radius: f64) {
        draw.circle(line, self.at(middle.0, middle.1), radius * self.scale);
    }
    /// Cross lines through a middle, a little past a radius.
    pub fn cross(&self, draw: &mut impl Draw, middle: (f64, f64), radius: f64) {
        let r = radius + 2.5 / self.scale;
        self.line(draw, Line::Centre, (middle.0 - r, middle.1), (middle.0 + r, middle.1));
        self.line(draw, Line::Centre, (middle.0, middle.1 - r), (middle.0, middle.1 + r));
    }
    /// An outline with its holes cut through.
    pub fn outline(&self, draw: &mut impl Draw, fill: Option<Fill>, line: Line, outline: &Outline) {
        let mut path = kurbo::BezPath::new();
        for ring in std::iter::once(&outline.outer).chain(&outline.holes) {
            let mut loop_ = through(ring.iter().map(|p| self.at(p[0], p[1])));
            loop_.close_path();
            path.extend(loop_);
        }
        match fill {
            Some(fill) => draw.area(fill, Some(line), path),
            None => draw.path(line, path),
        }
    }
}

/// A part's size as a list prints it, without its unit; nothing for what is bought as it is.
pub(super) fn size(stuff: &Stuff, ruler: Ruler) -> String {
    let by = |sides: &[f64]| sides.iter().map(|side| ruler.bare(*side)).collect::<Vec<_>>().join(" x ");
    match stuff {
        Stuff::Board { thick, wide, long, .. } => by(&[*thick, *wide, *long]),
        Stuff::Rod { diameter, long } => format!("ø {}", by(&[*diameter, *long])),
        Stuff::Tube { diameter, wall, long } => {
            format!("ø {} x {} wall x {}", ruler.bare(*diameter), ruler.fine(*wall), ruler.bare(*long))
        }
        Stuff::Sheet { thick, .. } => format!("{} thick, see its drawing", ruler.bare(*thick)),
        Stuff::Bought => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_fit() {
        assert_eq!(fitting((100.0, 50.0), (100.0, 50.0)), 1.0);
        assert_eq!(fitting((101.0, 50.0), (100.0, 50.0)), 1.0 / 1.5);
        assert_eq!(fitting((1e9, 1.0), (100.0, 50.0)), 0.025);
    }
}
