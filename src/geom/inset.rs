//! An outline drawn in by a hair, for proofs that allow a named tolerance. For seam allowances see [`super::offset`].

use super::{Flaw, area, edges, flaw, tidy};
use kurbo::{Point, Vec2};

/// Steps on the arc round an inward corner are at most this turn: 60°, cosine ½.
const ARC_COSINE: f64 = 0.5;

/// The simple, anticlockwise outline drawn in by `by` mm all round. It holds every point of the shape that is at least
/// `by` from its edge, and none nearer than 0.86 `by` to an edge. `Err` where a spike, slit or wiggle is too
/// fine for so much: drawing in would break the outline.
pub fn inset(outline: &[Point], by: f64) -> Result<Vec<Point>, Flaw> {
    let n = outline.len();
    let inward: Vec<Vec2> = edges(outline).map(|(a, b)| turn_left((b - a).normalize())).collect();
    let mut drawn = Vec::with_capacity(n + 8);
    for i in 0..n {
        let (before, after) = (inward[(i + n - 1) % n], inward[i]);
        corner(outline[i], before, after, by, &mut drawn);
    }
    let drawn = tidy(&drawn);
    match flaw(&drawn) {
        None if area(&drawn) <= area(outline) => Ok(drawn),
        None => Err(Flaw::NoArea),
        Some(flaw) => Err(flaw),
    }
}

fn turn_left(v: Vec2) -> Vec2 {
    Vec2::new(-v.y, v.x)
}

/// Corner `at` between edges with inward normals `before` and `after`, drawn in.
fn corner(at: Point, before: Vec2, after: Vec2, by: f64, out: &mut Vec<Point>) {
    let (cross, dot) = (before.cross(after), before.dot(after));
    if cross >= 0.0 || dot > 0.999_999 {
        // Outward corner: where the two drawn-in edges meet.
        return out.push(at + (before + after) * (by / (1.0 + dot).max(1e-9)));
    }
    // Inward corner: points on the circle round it, so near that their chords stay well outside the smaller circle.
    out.push(at + before * by);
    let mut from = before;
    for _ in 0..3 {
        if from.dot(after) >= ARC_COSINE {
            break;
        }
        from = Vec2::new(0.5 * from.x + SIN_60 * from.y, -SIN_60 * from.x + 0.5 * from.y);
        out.push(at + from * by);
    }
    out.push(at + after * by);
}

/// √3 / 2.
const SIN_60: f64 = 0.866_025_403_784_438_6;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Whereabouts, distance_to_edge, rectangle, whereabouts};
    use kurbo::Rect;

    #[test]
    fn a_rectangle_loses_a_rim() {
        let drawn = inset(&rectangle(Rect::new(0., 0., 10., 6.)), 0.5).expect("plain");
        assert!((area(&drawn) - 9.0 * 5.0).abs() < 1e-12);
    }

    #[test]
    fn keeps_all_that_is_deep_and_nothing_shallow() {
        // A star with sharp outward and inward corners.
        let star =
            [(0., 10.), (-2., 2.), (-10., 0.), (-2., -2.), (0., -10.), (2., -2.), (10., 0.), (2., 2.)].map(Point::from);
        let by = 0.1;
        let drawn = inset(&star, by).expect("wide enough");
        let depth = |p: Point| edges(&star).map(|(a, b)| distance_to_edge(p, a, b)).fold(f64::INFINITY, f64::min);
        for i in -100..=100 {
            for j in -100..=100 {
                let p = Point::new(f64::from(i) * 0.1003, f64::from(j) * 0.0997);
                if whereabouts(&star, p) == Whereabouts::Inside && depth(p) >= by {
                    assert_ne!(whereabouts(&drawn, p), Whereabouts::Outside, "{p:?}");
                }
            }
        }
        for (a, b) in edges(&drawn) {
            for t in [0.0, 0.25, 0.5, 0.75] {
                let p = a.lerp(b, t);
                assert_eq!(whereabouts(&star, p), Whereabouts::Inside);
                assert!(depth(p) > 0.86 * by, "{p:?} is {} deep", depth(p));
            }
        }
    }

    #[test]
    fn a_slit_too_fine_is_refused() {
        let slit = [(0., 0.), (10., 0.), (10., 10.), (5.01, 10.), (5.0, 1.), (4.99, 10.), (0., 10.)].map(Point::from);
        assert!(inset(&slit, 0.001).is_ok());
        let needle = [(0., 0.), (10., 0.), (10., 10.), (5.0, 10.), (5.0, 30.), (4.99, 10.), (0., 10.)].map(Point::from);
        assert!(inset(&needle, 0.1).is_err());
    }
}
