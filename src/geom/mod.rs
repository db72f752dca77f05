//! Plane shapes in millimetres, on `kurbo` points and paths: areas, offsets, flattening, and tests of whether outlines
//! cross. An *outline* is a slice of points, closed by itself, without the first point repeated. Anticlockwise (y up) is
//! positive. Knows no garment and no machine. The side-of-line test is exact, so a verdict never depends on rounding;
//! booleans and wide offsets come from `i_overlay` behind [`offset`] alone.

mod deepest;
mod flatten;
mod inset;
pub mod offset;
mod outline;
mod side;
mod thin;
mod touch;

pub use deepest::deepest;
pub use flatten::{FLATTEN, flatten};
pub use inset::inset;
pub use kurbo::{Point, Rect, Vec2};
pub use outline::{Flaw, GREATEST, flaw, tidy};
pub use side::{Side, side};
pub use thin::thinned;
pub use touch::{Whereabouts, apart, segments_touch, whereabouts};

/// Signed area in mm²: positive for an anticlockwise outline.
pub fn area(outline: &[Point]) -> f64 {
    let Some(first) = outline.first() else { return 0.0 };
    edges(outline).map(|(a, b)| (a - *first).cross(b - *first)).sum::<f64>() / 2.0
}

/// Length round the outline, mm.
pub fn perimeter(outline: &[Point]) -> f64 {
    edges(outline).map(|(a, b)| a.distance(b)).sum()
}

/// Centre of area. The mean of the points where there is no area.
pub fn centroid(outline: &[Point]) -> Point {
    let Some(first) = outline.first() else { return Point::ORIGIN };
    let area = area(outline);
    let third = edges(outline).fold(Vec2::ZERO, |sum, (a, b)| {
        let (a, b) = (a - *first, b - *first);
        sum + (a + b) * a.cross(b)
    });
    if area.abs() > f64::MIN_POSITIVE {
        *first + third / (6.0 * area)
    } else {
        let sum = outline.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
        (sum / outline.len() as f64).to_point()
    }
}

/// Smallest upright rectangle round the points; a point at the origin for none.
pub fn bounds(points: &[Point]) -> Rect {
    let Some(first) = points.first() else { return Rect::ZERO };
    points.iter().fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p))
}

/// Whether every corner turns the same way. Points in line are allowed.
pub fn is_convex(outline: &[Point]) -> bool {
    let n = outline.len();
    let turn = |i: usize| side(outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
    n >= 3 && !((0..n).any(|i| turn(i) == Side::Left) && (0..n).any(|i| turn(i) == Side::Right))
}

/// The outline's edges in order, the closing one last.
pub fn edges(outline: &[Point]) -> impl ExactSizeIterator<Item = (Point, Point)> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

/// An upright rectangle as an outline, anticlockwise from its least corner.
pub fn rectangle(rect: Rect) -> Vec<Point> {
    vec![
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ]
}

/// How far `p` is from the straight edge `a` to `b`, mm.
pub fn distance_to_edge(p: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let length2 = along.hypot2();
    let t = if length2 > 0.0 { ((p - a).dot(along) / length2).clamp(0.0, 1.0) } else { 0.0 };
    p.distance(a + along * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn area_centroid_perimeter_of_an_l() {
        // 4 x 1 foot and 1 x 3 stem: 7 mm², centre ((4*2 + 3*0.5) / 7, (4*0.5 + 3*2.5) / 7).
        let l = [(0., 0.), (4., 0.), (4., 1.), (1., 1.), (1., 4.), (0., 4.)].map(Point::from);
        assert_eq!(area(&l), 7.0);
        assert_eq!(perimeter(&l), 16.0);
        assert!(centroid(&l).distance(Point::new(9.5 / 7.0, 9.5 / 7.0)) < 1e-12);
        assert!(!is_convex(&l));
        assert!(is_convex(&rectangle(Rect::new(0., 0., 3., 2.))));
        let back: Vec<Point> = l.iter().rev().copied().collect();
        assert_eq!(area(&back), -7.0);
        assert_eq!(bounds(&l), Rect::new(0., 0., 4., 4.));
    }

    #[test]
    fn nothing_is_not_a_panic() {
        assert_eq!((area(&[]), perimeter(&[]), centroid(&[])), (0.0, 0.0, Point::ORIGIN));
        assert_eq!(bounds(&[]), Rect::ZERO);
        assert!(!is_convex(&[]));
    }

    #[test]
    fn distance_to_an_edge_past_its_end() {
        let (a, b) = (Point::new(0., 0.), Point::new(10., 0.));
        assert_eq!(distance_to_edge(Point::new(5., 3.), a, b), 3.0);
        assert_eq!(distance_to_edge(Point::new(13., 4.), a, b), 5.0);
        assert_eq!(distance_to_edge(Point::new(3., 4.), a, a), 5.0);
    }
}
