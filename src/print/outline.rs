//! Outlines of a plate where it is half covered, as closed lines with ink on their right hand (y down: outer lines run clockwise on the
//! sheet), straight between the middles of squares, then thinned. Lines never cross, so that what is inside what can be counted.

use super::plate::Plate;
use kurbo::{BezPath, Point};

/// Closed lines round the ink, in squares of the plate, each without its first point repeated.
pub fn outlines(plate: &Plate) -> Vec<Vec<Point>> {
    let tracer = Tracer::new(plate);
    let mut left = tracer.next.clone();
    let mut out = Vec::new();
    for first in 0..left.len() {
        if left[first] == NONE {
            continue;
        }
        let mut line = Vec::new();
        let mut at = first;
        while left[at] != NONE {
            line.push(tracer.point(at));
            at = std::mem::replace(&mut left[at], NONE) as usize;
        }
        let line = thinned(line);
        if line.len() >= 3 {
            out.push(line);
        }
    }
    out
}

/// The same as a path in millimetres, squares of `pixel` mm.
pub fn path(plate: &Plate, pixel: f64) -> BezPath {
    let mut path = BezPath::new();
    for line in outlines(plate) {
        for (i, p) in line.iter().enumerate() {
            let p = Point::new(p.x * pixel, p.y * pixel);
            if i == 0 { path.move_to(p) } else { path.line_to(p) }
        }
        path.close_path();
    }
    path
}

const NONE: u32 = u32::MAX;

/// Crossings of the half-covered line with the sides between middles of squares: those to the right first, then those down.
struct Tracer<'a> {
    plate: &'a Plate,
    /// Middles across, one more on each side.
    wide: usize,
    next: Vec<u32>,
}

impl<'a> Tracer<'a> {
    fn new(plate: &'a Plate) -> Self {
        let (wide, high) = (plate.width + 2, plate.height + 2);
        let mut tracer = Tracer { plate, wide, next: vec![NONE; 2 * wide * high] };
        for y in 0..high - 1 {
            for x in 0..wide - 1 {
                tracer.cell(x, y);
            }
        }
        tracer
    }
    fn value(&self, x: usize, y: usize) -> f64 {
        let inside = x >= 1 && y >= 1 && x <= self.plate.width && y <= self.plate.height;
        // a hair off the half, so that no crossing falls on a middle
        if inside { f64::from(self.plate.cover[(y - 1) * self.plate.width + x - 1]) - 127.5 } else { -127.5 }
    }
    fn right(&self, x: usize, y: usize) -> u32 {
        (y * self.wide + x) as u32
    }
    fn down(&self, x: usize, y: usize) -> u32 {
        (self.next.len() / 2 + y * self.wide + x) as u32
    }
    /// Joins the sides of a cell, ink on the right hand.
    fn cell(&mut self, x: usize, y: usize) {
        let corner = [self.value(x, y), self.value(x + 1, y), self.value(x + 1, y + 1), self.value(x, y + 1)];
        let ink = corner.map(|v| v > 0.0);
        let side = [self.right(x, y), self.down(x + 1, y), self.right(x, y + 1), self.down(x, y)];
        let filled = corner.iter().sum::<f64>() > 0.0;
        // a line leaves by a side whose earlier corner (clockwise) is bare and the later one ink, and enters by the other kind
        for from in 0..4 {
            if ink[from] || !ink[(from + 1) % 4] {
                continue;
            }
            let ends = |by: usize| ink[by] && !ink[(by + 1) % 4];
            let all: Vec<usize> = (1..4).map(|k| (from + k) % 4).filter(|by| ends(*by)).collect();
            // two ways in: round the ink's own corner, or along the bare one when the ink holds together in the middle
            let way = if filled { all.last() } else { all.first() };
            if let Some(way) = way {
                self.next[side[*way] as usize] = side[from];
            }
        }
    }
    fn point(&self, at: usize) -> Point {
        let half = self.next.len() / 2;
        let (place, down) = (at % half, at >= half);
        let (x, y) = (place % self.wide, place / self.wide);
        let (a, b) = (self.value(x, y), if down { self.value(x, y + 1) } else { self.value(x + 1, y) });
        let t = a / (a - b);
        // middles of the plate's squares lie at halves
        let (x, y) = (x as f64 - 0.5, y as f64 - 0.5);
        if down { Point::new(x, y + t) } else { Point::new(x + t, y) }
    }
}

/// Farthest that a left-out point may lie from the line, squares.
const THIN: f64 = 0.12;

/// Fewer points, none farther than [`THIN`] from the line that is left (Douglas and Peucker 1973).
fn thinned(line: Vec<Point>) -> Vec<Point> {
    if line.len() < 8 {
        return line;
    }
    let half = line.len() / 2;
    let mut keep = vec![false; line.len()];
    (keep[0], keep[half]) = (true, true);
    let mut open = vec![(0, half), (half, line.len())];
    while let Some((from, to)) = open.pop() {
        let (a, b) = (line[from], line[to % line.len()]);
        let along = b - a;
        let long = along.hypot().max(1e-12);
        let far = |i: usize| ((line[i] - a).cross(along) / long).abs();
        let Some(worst) = (from + 1..to).max_by(|p, q| far(*p).total_cmp(&far(*q))) else { continue };
        if far(worst) > THIN {
            keep[worst] = true;
            open.push((from, worst));
            open.push((worst, to));
        }
    }
    line.into_iter().zip(keep).filter_map(|(p, keep)| keep.then_some(p)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom;

    #[test]
    fn a_ring_has_two_lines_of_its_sizes() {
        let ring = |x: usize, y: usize| {
            let r = libm::hypot(x as f64 + 0.5 - 50.0, y as f64 + 0.5 - 50.0);
            (20.0..40.0).contains(&r)
        };
        let lines = outlines(&Plate::of(100, 100, ring).softened());
        let mut areas: Vec<f64> = lines.iter().map(|line| geom::area(line)).collect();
        areas.sort_by(f64::total_cmp);
        assert_eq!(areas.len(), 2);
        assert!((areas[0] + std::f64::consts::PI * 400.0).abs() < 30.0, "{areas:?}");
        assert!((areas[1] - std::f64::consts::PI * 1600.0).abs() < 60.0, "{areas:?}");
        assert!(lines.iter().all(|line| line.len() < 120));
    }

    /// Identity: the area inside the lines is the ink, whatever the mask; and every line closes.
    #[test]
    fn areas_add_up() {
        let mut seed = 3u32;
        for _ in 0..20 {
            let cover: Vec<u8> = (0..400)
                .map(|_| {
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    if seed >> 31 == 0 { 0 } else { 255 }
                })
                .collect();
            let plate = Plate { width: 20, height: 20, cover };
            let area: f64 = outlines(&plate).iter().map(|line| geom::area(line)).sum();
            let ink = plate.share() * 400.0;
            assert!((area - ink).abs() < 0.26 * ink, "{area} {ink}");
        }
        assert!(outlines(&Plate::empty(5, 5)).is_empty());
    }
}
