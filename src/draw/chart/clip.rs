//! Lines and areas cut to a chart's frame, and a smooth path through points.

use kurbo::{BezPath, Point, Rect};

/// The part of a straight line inside a rectangle (Liang and Barsky 1984).
pub(super) fn clipped(a: Point, b: Point, area: Rect) -> Option<(Point, Point)> {
    let way = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [(-way.x, a.x - area.x0), (way.x, area.x1 - a.x), (-way.y, a.y - area.y0), (way.y, area.y1 - a.y)];
    for (speed, room) in sides {
        if speed == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if speed < 0.0 {
            from = from.max(room / speed);
        } else {
            to = to.min(room / speed);
        }
    }
    (from <= to).then(|| (a + way * from, a + way * to))
}

/// A polygon cut to a rectangle (Sutherland and Hodgman 1974).
pub(super) fn clipped_area(mut points: Vec<Point>, area: Rect) -> Vec<Point> {
    let inside: [&dyn Fn(Point) -> f64; 4] =
        [&|p| p.x - area.x0, &|p| area.x1 - p.x, &|p| p.y - area.y0, &|p| area.y1 - p.y];
    for room in inside {
        let whole = std::mem::take(&mut points);
        for (i, b) in whole.iter().copied().enumerate() {
            let a = whole[(i + whole.len() - 1) % whole.len()];
            let (ra, rb) = (room(a), room(b));
            if (ra < 0.0) != (rb < 0.0) {
                points.push(a.lerp(b, ra / (ra - rb)));
            }
            if rb >= 0.0 {
                points.push(b);
            }
        }
    }
    points
}

/// A smooth path through points (Catmull and Rom 1974), for sketches of curves that are smooth by nature.
pub fn smooth(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    let at = |i: usize| points[i.min(points.len() - 1)];
    for i in 0..points.len() {
        if i == 0 {
            path.move_to(at(0));
            continue;
        }
        let (before, a, b, after) = (at(i.saturating_sub(2)), at(i - 1), at(i), at(i + 1));
        path.curve_to(a + (b - before) / 6.0, b - (after - a) / 6.0, b);
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    /// Identity: a polygon around the rectangle is cut to the rectangle.
    #[test]
    fn a_polygon_is_cut_to_the_frame() {
        let area = Rect::new(0.0, 0.0, 10.0, 5.0);
        let around =
            vec![Point::new(-5.0, -5.0), Point::new(20.0, -5.0), Point::new(20.0, 20.0), Point::new(-5.0, 20.0)];
        let cut = clipped_area(around, area);
        let mut path = crate::draw::sheet::through(cut);
        path.close_path();
        assert!((path.area().abs() - 50.0).abs() < 1e-9);
        assert_eq!(path.bounding_box(), area);
    }
}
