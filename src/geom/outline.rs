//! What makes an outline fit for use: enough points, finite and of a believable size, with an area, not crossing itself.

use super::{Side, area, bounds, edges, segments_touch, side};
use kurbo::Point;
use std::fmt;

/// Greatest coordinate taken, mm: a hundred metres, further than any loom's warp.
pub const GREATEST: f64 = 100_000.0;

/// What is wrong with an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Flaw {
    /// Fewer than three different points.
    TooFewPoints,
    /// A coordinate that is not a number, or infinite.
    NotANumber,
    /// A coordinate beyond [`GREATEST`].
    TooFar(Point),
    /// It encloses nothing.
    NoArea,
    /// Two of its edges touch or cross near this point.
    CrossesItself(Point),
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Flaw::TooFewPoints => write!(f, "the outline has fewer than three different points"),
            Flaw::NotANumber => write!(f, "the outline has a coordinate that is not a number"),
            Flaw::TooFar(p) => {
                write!(f, "the outline reaches ({:.0}, {:.0}) mm; {GREATEST:.0} mm is the most", p.x, p.y)
            }
            Flaw::NoArea => write!(f, "the outline encloses no area"),
            Flaw::CrossesItself(p) => write!(f, "the outline crosses itself near ({:.1}, {:.1}) mm", p.x, p.y),
        }
    }
}

/// The outline anticlockwise, without a repeated closing point and without points repeated in a row.
pub fn tidy(points: &[Point]) -> Vec<Point> {
    let mut outline: Vec<Point> = points.to_vec();
    outline.dedup();
    while outline.len() > 1 && outline.first() == outline.last() {
        outline.pop();
    }
    if area(&outline) < 0.0 {
        outline.reverse();
    }
    outline
}

/// The first flaw of an outline, or `None` when it is simple. Exact; time grows with the pairs of edges that share a stretch
/// of x, so at worst with the square of their number.
pub fn flaw(outline: &[Point]) -> Option<Flaw> {
    if outline.iter().any(|p| !p.is_finite()) {
        return Some(Flaw::NotANumber);
    }
    if let Some(p) = outline.iter().find(|p| p.x.abs() > GREATEST || p.y.abs() > GREATEST) {
        return Some(Flaw::TooFar(*p));
    }
    if outline.len() < 3 {
        return Some(Flaw::TooFewPoints);
    }
    let size = bounds(outline).size().max_side();
    if area(outline).abs() <= size * size * 1e-12 {
        return Some(Flaw::NoArea);
    }
    crossing(outline).map(Flaw::CrossesItself)
}

/// A point near which the outline touches itself.
fn crossing(outline: &[Point]) -> Option<Point> {
    let n = outline.len();
    let edge: Vec<_> = edges(outline).collect();
    let mut by_x: Vec<usize> = (0..n).collect();
    by_x.sort_by(|&i, &j| least_x(edge[i]).total_cmp(&least_x(edge[j])));
    for (at, &i) in by_x.iter().enumerate() {
        let reach = edge[i].0.x.max(edge[i].1.x);
        for &j in by_x[at + 1..].iter().take_while(|&&j| least_x(edge[j]) <= reach) {
            if clash(&edge, i.min(j), i.max(j), n) {
                return Some(edge[i.max(j)].0.midpoint(edge[i.max(j)].1));
            }
        }
    }
    None
}

fn least_x((a, b): (Point, Point)) -> f64 {
    a.x.min(b.x)
}

/// Whether edges `i < j` share more than the corner that neighbours must share.
fn clash(edge: &[(Point, Point)], i: usize, j: usize, n: usize) -> bool {
    let (first, then) = match (j == i + 1, i == 0 && j == n - 1) {
        (true, _) => (i, j),
        (_, true) => (j, i),
        _ => return segments_touch(edge[i], edge[j]),
    };
    let ((a, b), (_, c)) = (edge[first], edge[then]);
    // Neighbours clash only when the second runs back along the first.
    a == b || b == c || (side(a, b, c) == Side::On && (b - a).dot(c - b) < 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points<const N: usize>(p: [(f64, f64); N]) -> Vec<Point> {
        p.map(Point::from).to_vec()
    }

    #[test]
    fn a_simple_outline_has_no_flaw() {
        assert_eq!(flaw(&points([(0., 0.), (4., 0.), (4., 3.), (2., 1.), (0., 3.)])), None);
        assert_eq!(flaw(&points([(0., 0.), (1., 0.), (2., 0.), (2., 2.)])), None, "points in line are no flaw");
    }

    #[test]
    fn each_flaw_is_named() {
        assert_eq!(flaw(&points([(0., 0.), (4., 0.)])), Some(Flaw::TooFewPoints));
        assert_eq!(flaw(&points([(0., 0.), (4., f64::NAN), (1., 1.)])), Some(Flaw::NotANumber));
        assert!(matches!(flaw(&points([(0., 0.), (4., 1e9), (1., 1.)])), Some(Flaw::TooFar(_))));
        assert_eq!(flaw(&points([(0., 0.), (4., 4.), (8., 8.)])), Some(Flaw::NoArea));
        let crossed = flaw(&points([(0., 0.), (4., 4.), (4., 0.), (0., 5.)]));
        assert!(matches!(crossed, Some(Flaw::CrossesItself(_))), "{crossed:?}");
        let spike = flaw(&points([(0., 0.), (4., 0.), (4., 4.), (4., 6.), (4., 4.), (0., 4.)]));
        assert!(matches!(spike, Some(Flaw::CrossesItself(_))), "{spike:?}");
        let pinched = flaw(&points([(0., 0.), (4., 0.), (2., 2.), (4., 4.), (0., 4.), (2., 2.)]));
        assert!(matches!(pinched, Some(Flaw::CrossesItself(_))), "{pinched:?}");
    }

    #[test]
    fn tidying_closes_and_turns() {
        let given = points([(0., 0.), (0., 2.), (0., 2.), (2., 2.), (2., 0.), (0., 0.)]);
        assert_eq!(tidy(&given), points([(2., 0.), (2., 2.), (0., 2.), (0., 0.)]));
        assert_eq!(tidy(&points([(1., 1.), (1., 1.)])).len(), 1);
    }
}
