//! A plate: how much of each small square of the picture one ink covers. What films, stencils and blocks are made from.

use super::distance::Distances;

/// Coverage of one ink over the picture as it is printed, row by row from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plate {
    pub width: usize,
    pub height: usize,
    /// 0 no ink to 255 full.
    pub cover: Vec<u8>,
}

/// A square so much covered is more ink than not.
pub const INK: u8 = 128;

impl Plate {
    /// No ink anywhere.
    pub fn empty(width: usize, height: usize) -> Plate {
        Plate { width, height, cover: vec![0; width * height] }
    }
    /// Ink where `is` says so of (x, y).
    pub fn of(width: usize, height: usize, is: impl Fn(usize, usize) -> bool) -> Plate {
        let cover = (0..width * height).map(|i| if is(i % width, i / width) { 255 } else { 0 }).collect();
        Plate { width, height, cover }
    }
    /// Whether a square is more ink than not; none beyond the edge.
    pub fn is_ink(&self, x: i64, y: i64) -> bool {
        let inside = x >= 0 && y >= 0 && (x as usize) < self.width && (y as usize) < self.height;
        inside && self.cover[y as usize * self.width + x as usize] >= INK
    }
    /// Which squares are more ink than not.
    pub fn mask(&self) -> Vec<bool> {
        self.cover.iter().map(|c| *c >= INK).collect()
    }
    /// Mean coverage, 0 to 1.
    pub fn share(&self) -> f64 {
        let sum: u64 = self.cover.iter().map(|c| u64::from(*c)).sum();
        sum as f64 / (255.0 * self.cover.len().max(1) as f64)
    }
    /// Ink of both.
    pub fn joined(&self, other: &Plate) -> Plate {
        let both = |(a, b): (&u8, &u8)| a.saturating_add(*b);
        Plate { cover: self.cover.iter().zip(&other.cover).map(both).collect(), ..*self }
    }
    /// Grown by `by` squares (shrunk where it is below 0), with edges half a square soft.
    pub fn grown(&self, by: f64) -> Plate {
        let ink = self.mask();
        let gap: Vec<bool> = ink.iter().map(|is| !is).collect();
        let outside = Distances::to(&ink, self.width, self.height);
        let inside = Distances::to(&gap, self.width, self.height);
        let one = |i: usize| {
            let signed = if ink[i] { inside.of(i) - 0.5 } else { 0.5 - outside.of(i) };
            ((signed + by + 0.5).clamp(0.0, 1.0) * 255.0 + 0.5) as u8
        };
        Plate { cover: (0..ink.len()).map(one).collect(), ..*self }
    }
    /// With edges a square softer: each is mixed with its neighbours (1 2 1 both ways).
    pub fn softened(&self) -> Plate {
        let (w, h) = (self.width, self.height);
        let get = |x: usize, y: usize| u32::from(self.cover[y * w + x]);
        let three = |n: usize, most: usize| [(n.saturating_sub(1), 1), (n, 2), ((n + 1).min(most - 1), 1)];
        let one = |i: usize| {
            let mut sum = 8;
            for (y, wy) in three(i / w, h) {
                for (x, wx) in three(i % w, w) {
                    sum += wx * wy * get(x, y);
                }
            }
            (sum / 16) as u8
        };
        Plate { cover: (0..w * h).map(one).collect(), ..*self }
    }
    /// Turned over sideways, as a block is cut.
    pub fn mirrored(&self) -> Plate {
        let mut cover = self.cover.clone();
        cover.chunks_mut(self.width).for_each(<[u8]>::reverse);
        Plate { cover, ..*self }
    }
    /// With `edge` more empty squares on every side.
    pub fn framed(&self, edge: usize) -> Plate {
        let mut out = Plate::empty(self.width + 2 * edge, self.height + 2 * edge);
        for (y, line) in self.cover.chunks(self.width).enumerate() {
            let start = (y + edge) * out.width + edge;
            out.cover[start..start + self.width].copy_from_slice(line);
        }
        out
    }
    /// In fewer squares: means.
    pub fn reduced(&self, width: usize, height: usize) -> Plate {
        let (w, h) = (width.clamp(1, self.width), height.clamp(1, self.height));
        let bounds = |n: usize, of: usize, all: usize| {
            let first = n * all / of;
            (first, ((n + 1) * all / of).max(first + 1))
        };
        let mean = |i: usize| {
            let ((x0, x1), (y0, y1)) = (bounds(i % w, w, self.width), bounds(i / w, h, self.height));
            let mut sum = 0u64;
            for y in y0..y1 {
                sum += self.cover[y * self.width + x0..y * self.width + x1].iter().map(|c| u64::from(*c)).sum::<u64>();
            }
            let of = ((x1 - x0) * (y1 - y0)) as u64;
            ((sum + of / 2) / of) as u8
        };
        Plate { width: w, height: h, cover: (0..w * h).map(mean).collect() }
    }
    /// Coverage of the square a place lies in, 0 to 1; none beyond the edge.
    #[inline]
    pub fn near(&self, x: f32, y: f32) -> f32 {
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f32 && y < self.height as f32;
        if inside { f32::from(self.cover[y as usize * self.width + x as usize]) * (1.0 / 255.0) } else { 0.0 }
    }
    /// Coverage at a place between squares, 0 to 1; their middles are at halves, and none lies beyond the edge.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        let (x, y) = (x - 0.5, y - 0.5);
        let (x0, y0) = (x.floor(), y.floor());
        let (tx, ty) = (x - x0, y - y0);
        let get = |x: f64, y: f64| {
            let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
            if inside { f64::from(self.cover[y as usize * self.width + x as usize]) } else { 0.0 }
        };
        let top = get(x0, y0) * (1.0 - tx) + get(x0 + 1.0, y0) * tx;
        let low = get(x0, y0 + 1.0) * (1.0 - tx) + get(x0 + 1.0, y0 + 1.0) * tx;
        (top * (1.0 - ty) + low * ty) / 255.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn disc(side: usize, radius: f64) -> Plate {
        let middle = side as f64 / 2.0;
        Plate::of(side, side, |x, y| libm::hypot(x as f64 + 0.5 - middle, y as f64 + 0.5 - middle) < radius)
    }

    /// Identity: a disc grown by n is the disc of the greater radius, by area.
    #[test]
    fn growing_adds_to_the_radius() {
        let area = |plate: &Plate| plate.share() * (plate.width * plate.height) as f64;
        for by in [-6.0, -2.5, 3.0, 7.5] {
            let found = (area(&disc(120, 30.0).grown(by)) / std::f64::consts::PI).sqrt();
            assert!((found - 30.0 - by).abs() < 0.35, "{by}: {found}");
        }
    }

    #[test]
    fn frames_means_and_mirrors() {
        let plate = Plate::of(6, 4, |x, y| x < 2 && y < 2);
        assert!((plate.share() - 4.0 / 24.0).abs() < 1e-12);
        let mirrored = plate.mirrored();
        assert!(mirrored.is_ink(5, 0) && !mirrored.is_ink(0, 0) && !mirrored.is_ink(-1, 0));
        assert_eq!(plate.reduced(3, 2).cover, [255, 0, 0, 0, 0, 0]);
        assert!((plate.framed(3).share() * 120.0 - 4.0).abs() < 1e-9);
        assert!((plate.at(1.0, 1.0) - 1.0).abs() < 1e-9 && (plate.at(2.0, 1.0) - 0.5).abs() < 1e-9);
    }
}
