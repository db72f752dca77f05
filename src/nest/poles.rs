//! Poles of a piece, found on a grid: circles inside it, the largest that fits beside the earlier ones. Coarser than the engine's,
//! and hundreds of times quicker, for searches so short that finding poles would take longer than searching.

use crate::geom::{self, Point};

/// Grid points along the longer side.
const STEPS: f64 = 40.0;
/// Most poles, and the share of the area at which fewer will do.
const MOST: usize = 16;
const ENOUGH: f64 = 0.85;

/// The poles, largest first; at least one for an outline that is no sliver finer than the grid.
pub(super) fn on_a_grid(outline: &[Point]) -> Vec<(Point, f64)> {
    let bounds = geom::bounds(outline);
    let step = bounds.width().max(bounds.height()) / STEPS;
    if !(step > 0.0 && step.is_finite()) {
        return Vec::new();
    }
    let mut room: Vec<(Point, f64)> = Vec::new();
    let (columns, rows) = ((bounds.width() / step).ceil() as usize, (bounds.height() / step).ceil() as usize);
    for column in 0..columns {
        for row in 0..rows {
            let at = Point::new(bounds.x0 + (column as f64 + 0.5) * step, bounds.y0 + (row as f64 + 0.5) * step);
            let inside = room_at(outline, at);
            if inside > 0.0 {
                room.push((at, inside));
            }
        }
    }
    let whole = geom::area(outline).abs();
    let (mut poles, mut covered): (Vec<(Point, f64)>, f64) = (Vec::new(), 0.0);
    while poles.len() < MOST && covered < ENOUGH * whole {
        // of equals the first, so that the order of the grid decides
        let Some(best) = room.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a }) else { break };
        covered += std::f64::consts::PI * best.1 * best.1;
        poles.push(best);
        for point in &mut room {
            point.1 = point.1.min((point.0 - best.0).hypot() - best.1);
        }
        room.retain(|point| point.1 > 0.25 * step);
    }
    poles
}

/// Distance to the nearest edge from inside; nothing outside.
fn room_at(outline: &[Point], at: Point) -> f64 {
    let (mut inside, mut nearest) = (false, f64::INFINITY);
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
        nearest = nearest.min(geom::distance_to_edge(at, *a, b));
    }
    if inside { nearest } else { 0.0 }
}

/// Area of the convex hull, by the monotone chain.
pub(super) fn hull_area(outline: &[Point]) -> f64 {
    let mut points = outline.to_vec();
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut kept: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = kept[..]
                && (b - a).cross(p - a) <= 0.0
            {
                kept.pop();
            }
            kept.push(p);
        }
        kept.pop();
        kept
    };
    let mut hull = chain(&mut points.iter().copied());
    hull.extend(chain(&mut points.iter().rev().copied()));
    geom::area(&hull).abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(of: &[(f64, f64)]) -> Vec<Point> {
        of.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    /// An L of two arms 100 wide: no pole leaves it or meets another, and together they cover most of it.
    #[test]
    fn poles_lie_inside_and_apart() {
        let outline = points(&[(0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (100.0, 100.0), (100.0, 300.0), (0.0, 300.0)]);
        let poles = on_a_grid(&outline);
        assert!(poles.len() > 4 && poles.windows(2).all(|w| w[0].1 >= w[1].1));
        for (i, (at, r)) in poles.iter().enumerate() {
            assert!(room_at(&outline, *at) >= r - 1e-9);
            for (other, s) in &poles[i + 1..] {
                assert!((*at - *other).hypot() >= r + s - 1e-9);
            }
        }
        let covered: f64 = poles.iter().map(|(_, r)| std::f64::consts::PI * r * r).sum();
        assert!(covered > 0.7 * 60_000.0 && covered < 60_000.0, "{covered}");
        assert_eq!(hull_area(&outline), 60_000.0 + 0.5 * 300.0 * 200.0);
    }

    #[test]
    fn a_point_has_none() {
        assert!(on_a_grid(&points(&[(1.0, 1.0), (1.0, 1.0), (1.0, 1.0)])).is_empty());
    }
}
