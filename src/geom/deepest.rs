//! The roomiest place of an outline: where a name, an arrow or a pin has the most room.

use super::{Whereabouts, bounds, distance_to_edge, edges, whereabouts};
use kurbo::{Point, Vec2};

/// Cells along each side of the first net, and of the finer ones cast round the best place.
const FIRST: i32 = 24;
const FINER: i32 = 4;
const TIMES: usize = 5;

/// The point inside the outline about farthest from its edges, and how far that is (mm). The outline's first point and 0
/// where nothing is inside. Good to a hundredth of the size for outlines that are not finer than a twentieth of it.
pub fn deepest(outline: &[Point]) -> (Point, f64) {
    let frame = bounds(outline);
    let mut best = (outline.first().copied().unwrap_or_default(), 0.0);
    let mut cell = frame.size() / f64::from(FIRST);
    cast(outline, frame.origin(), cell.to_vec2(), FIRST, &mut best);
    for _ in 0..TIMES {
        cell = cell / f64::from(FINER) * 2.0;
        let from = best.0 - cell.to_vec2() * f64::from(FINER) / 2.0;
        cast(outline, from, cell.to_vec2(), FINER, &mut best);
    }
    best
}

/// Tries every knot of a net.
fn cast(outline: &[Point], from: Point, cell: Vec2, cells: i32, best: &mut (Point, f64)) {
    for i in 0..=cells {
        for j in 0..=cells {
            let p = from + Vec2::new(f64::from(i) * cell.x, f64::from(j) * cell.y);
            let depth = edges(outline).map(|(a, b)| distance_to_edge(p, a, b)).fold(f64::INFINITY, f64::min);
            if depth > best.1 && whereabouts(outline, p) == Whereabouts::Inside {
                *best = (p, depth);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::rectangle;
    use kurbo::Rect;

    #[test]
    fn the_middle_of_a_square_and_the_wide_end_of_a_wedge() {
        let (p, depth) = deepest(&rectangle(Rect::new(0., 0., 10., 10.)));
        assert!(p.distance(Point::new(5., 5.)) < 0.1 && (depth - 5.0).abs() < 0.1);
        // Incircle of the triangle 3, 4, 5 has radius 1 about (1, 1).
        let (p, depth) = deepest(&[Point::new(0., 0.), Point::new(4., 0.), Point::new(0., 3.)]);
        assert!(p.distance(Point::new(1., 1.)) < 0.05 && (depth - 1.0).abs() < 0.02, "{p:?} {depth}");
        assert_eq!(deepest(&[]), (Point::ORIGIN, 0.0));
    }
}
