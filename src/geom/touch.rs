//! Whether points, edges and whole outlines touch. Every answer is exact for the coordinates given: touching counts as
//! touching, a hair's gap as a gap.

use super::{Side, bounds, edges, side};
use kurbo::{Point, Rect};

/// Where a point lies against an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whereabouts {
    Inside,
    OnEdge,
    Outside,
}

/// Where `p` lies against the outline (either direction). Counts the edges a ray to the right crosses.
pub fn whereabouts(outline: &[Point], p: Point) -> Whereabouts {
    let mut inside = false;
    for (a, b) in edges(outline) {
        if p.y < a.y.min(b.y) || p.y > a.y.max(b.y) || p.x > a.x.max(b.x) {
            continue;
        }
        let turn = side(a, b, p);
        if turn == Side::On && p.x >= a.x.min(b.x) {
            return Whereabouts::OnEdge;
        }
        // An end on the ray belongs to the edge above it, so that a corner is counted once.
        let up = a.y <= p.y && p.y < b.y && turn == Side::Left;
        let down = b.y <= p.y && p.y < a.y && turn == Side::Right;
        inside ^= up || down;
    }
    if inside { Whereabouts::Inside } else { Whereabouts::Outside }
}

/// Whether two straight edges share a point, ends included.
pub fn segments_touch((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    if a.x.max(b.x) < c.x.min(d.x) || c.x.max(d.x) < a.x.min(b.x) {
        return false;
    }
    if a.y.max(b.y) < c.y.min(d.y) || c.y.max(d.y) < a.y.min(b.y) {
        return false;
    }
    // Their boxes meet, so each straddling the other's line is enough, also when all four are in line.
    let straddles = |s: Side, t: Side| s != t || s == Side::On;
    straddles(side(a, b, c), side(a, b, d)) && straddles(side(c, d, a), side(c, d, b))
}

/// Whether two simple outlines share no point at all: neither their edges touch nor does one hold the other.
pub fn apart(a: &[Point], b: &[Point]) -> bool {
    let (Some(first_a), Some(first_b)) = (a.first(), b.first()) else { return true };
    let common = bounds(a).intersect(bounds(b));
    let (box_a, box_b) = (bounds(a), bounds(b));
    if box_a.x1 < box_b.x0 || box_b.x1 < box_a.x0 || box_a.y1 < box_b.y0 || box_b.y1 < box_a.y0 {
        return true;
    }
    let near: Vec<_> = edges(b).filter(|e| in_reach(*e, common)).collect();
    let touching = edges(a).filter(|e| in_reach(*e, common)).any(|e| near.iter().any(|f| segments_touch(e, *f)));
    !touching && whereabouts(a, *first_b) == Whereabouts::Outside && whereabouts(b, *first_a) == Whereabouts::Outside
}

fn in_reach((a, b): (Point, Point), r: Rect) -> bool {
    a.x.max(b.x) >= r.x0 && a.x.min(b.x) <= r.x1 && a.y.max(b.y) >= r.y0 && a.y.min(b.y) <= r.y1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::rectangle;

    fn square(x: f64, y: f64, size: f64) -> Vec<Point> {
        rectangle(Rect::new(x, y, x + size, y + size))
    }

    #[test]
    fn touching_is_not_apart_but_a_hair_is() {
        let a = square(0.0, 0.0, 1.0);
        assert!(!apart(&a, &square(1.0, 0.0, 1.0)), "edge to edge");
        assert!(!apart(&a, &square(1.0, 1.0, 1.0)), "corner to corner");
        assert!(apart(&a, &square(1.0 + f64::EPSILON, 0.0, 1.0)));
        assert!(!apart(&a, &square(0.25, 0.25, 0.5)), "one inside the other");
        assert!(!apart(&square(0.25, 0.25, 0.5), &a));
        assert!(!apart(&a, &a), "the same");
    }

    #[test]
    fn a_peg_in_a_notch_is_apart() {
        let u = [(0., 0.), (3., 0.), (3., 3.), (2., 3.), (2., 1.), (1., 1.), (1., 3.), (0., 3.)].map(Point::from);
        assert!(apart(&u, &square(1.25, 1.5, 0.5)));
        assert!(!apart(&u, &square(1.25, 0.75, 0.5)));
    }

    #[test]
    fn a_ray_through_corners_counts_them_once() {
        let w = [(0., 0.), (4., 2.), (8., 0.), (8., 4.), (4., 3.), (0., 4.)].map(Point::from);
        assert_eq!(whereabouts(&w, Point::new(1., 2.)), Whereabouts::Inside);
        assert_eq!(whereabouts(&w, Point::new(-1., 2.)), Whereabouts::Outside);
        assert_eq!(whereabouts(&w, Point::new(-1., 0.)), Whereabouts::Outside);
        assert_eq!(whereabouts(&w, Point::new(2., 1.)), Whereabouts::OnEdge);
        assert_eq!(whereabouts(&w, Point::new(8., 4.)), Whereabouts::OnEdge);
        assert_eq!(whereabouts(&w, Point::new(4., 1.)), Whereabouts::Outside);
        assert_eq!(whereabouts(&w, Point::new(4., 3.5)), Whereabouts::Outside);
    }

    #[test]
    fn edges_in_line_touch_only_where_they_meet() {
        let p = |x: f64| Point::new(x, x);
        assert!(segments_touch((p(0.), p(2.)), (p(1.), p(3.))));
        assert!(segments_touch((p(0.), p(2.)), (p(2.), p(3.))));
        assert!(!segments_touch((p(0.), p(2.)), (p(2.5), p(3.))));
    }
}
