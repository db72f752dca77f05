//! Free room inside an outline, for words that must not lie on a line. Millimetres; knows shapes only.

use kurbo::{BezPath, Point, Rect, Shape};

/// Places are tried on a grid of this many steps each way.
const STEPS: u32 = 28;

/// An outline and what already stands in it.
pub struct Room {
    outline: BezPath,
    bounds: Rect,
    taken: Vec<Rect>,
}

/// Where a block of words may stand: its top left corner, or, turned to read from the right, the top left corner of the
/// upright block it then covers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    pub at: Point,
    pub turned: bool,
}

impl Room {
    /// The room inside a closed outline.
    pub fn of(outline: BezPath) -> Room {
        let bounds = outline.bounding_box();
        Room { outline, bounds, taken: Vec::new() }
    }

    /// Nothing else may stand on `area`.
    pub fn keep(&mut self, area: Rect) {
        self.taken.push(area);
    }

    fn free(&self, block: Rect) -> bool {
        let grown = block.inflate(2.5, 2.5);
        let inside = |x: f64, y: f64| self.outline.contains(Point::new(x, y));
        let edge = (0..=6).all(|i| {
            let t = f64::from(i) / 6.0;
            let (x, y) = (grown.x0 + t * grown.width(), grown.y0 + t * grown.height());
            inside(x, grown.y0) && inside(x, grown.y1) && inside(grown.x0, y) && inside(grown.x1, y)
        });
        edge && self.taken.iter().all(|t| t.intersect(block).is_zero_area())
    }

    /// A place for a block `wide` by `high`, as near the middle as can be and a little above it; upright where it fits, else
    /// turned.
    pub fn find(&self, wide: f64, high: f64) -> Option<Spot> {
        let b = self.bounds;
        let wanted = Point::new(b.center().x, b.y0 + 0.42 * b.height());
        for (w, h, turned) in [(wide, high, false), (high, wide, true)] {
            let mut best: Option<(f64, Point)> = None;
            for i in 0..=STEPS {
                for j in 0..=STEPS {
                    let share = |k: u32| f64::from(k) / f64::from(STEPS);
                    let at = Point::new(b.x0 + share(i) * (b.width() - w), b.y0 + share(j) * (b.height() - h));
                    let far = Rect::new(at.x, at.y, at.x + w, at.y + h).center().distance(wanted);
                    let nearer = best.is_none_or(|(d, _)| far < d);
                    if nearer && self.free(Rect::new(at.x, at.y, at.x + w, at.y + h)) {
                        best = Some((far, at));
                    }
                }
            }
            if let Some((_, at)) = best {
                return Some(Spot { at, turned });
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_keep_clear_of_what_stands_there_and_turn_in_a_strip() {
        let mut room = Room::of(Rect::new(0.0, 0.0, 100.0, 60.0).to_path(0.1));
        let middle = room.find(30.0, 10.0).unwrap();
        assert!(!middle.turned && (middle.at.x + 15.0 - 50.0).abs() < 3.0);
        room.keep(Rect::new(40.0, 0.0, 60.0, 60.0));
        let aside = room.find(30.0, 10.0).unwrap();
        assert!(aside.at.x + 30.0 <= 40.0 || aside.at.x >= 60.0);
        let strip = Room::of(Rect::new(0.0, 0.0, 20.0, 200.0).to_path(0.1));
        assert!(strip.find(50.0, 10.0).unwrap().turned);
        assert_eq!(strip.find(50.0, 30.0), None);
    }
}
