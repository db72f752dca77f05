//! Chance for pictures: numbers that depend only on a seed and a place, so that any part of a picture can be made in any order
//! and by any number of workers and is the same. Not for statistics.

/// A number below 2³² that looks like chance, for a seed and a place.
#[inline]
pub fn mix(seed: u32, place: u32) -> u32 {
    // Two rounds of multiply and shift, after the finalisers in common use for 32-bit hashes.
    let mut h = seed ^ place.wrapping_mul(0x9E37_79B9);
    h = (h ^ (h >> 16)).wrapping_mul(0x7FEB_352D);
    h = (h ^ (h >> 15)).wrapping_mul(0x846C_A68B);
    h ^ (h >> 16)
}

/// Between 0 and 1.
#[inline]
pub fn unit(seed: u32, place: u32) -> f32 {
    (mix(seed, place) >> 8) as f32 * (1.0 / 16_777_216.0)
}

/// Between -1 and 1.
#[inline]
pub fn both(seed: u32, place: u32) -> f32 {
    unit(seed, place) * 2.0 - 1.0
}

/// About normal: mean 0, standard deviation 1, never beyond 3.5.
pub fn normal(seed: u32, place: u32) -> f32 {
    // The sum of four even draws has variance 4/3.
    (0..4).map(|i| both(seed ^ (i * 0x51ED_270B), place)).sum::<f32>() * 0.866_025_4
}

/// The whole number at or below `x`; by a cast, which is quicker than the library's where the processor is not asked.
#[inline]
pub fn floor(x: f32) -> f32 {
    let cut = x as i32 as f32;
    if cut > x { cut - 1.0 } else { cut }
}

/// A smooth line of chance along `x`: mean 0, standard deviation about 1, a bend at each whole number.
pub fn along(seed: u32, x: f32) -> f32 {
    let whole = floor(x);
    let part = x - whole;
    let place = whole as i32 as u32;
    let (a, b) = (both(seed, place), both(seed, place.wrapping_add(1)));
    // 2.0 makes up for what drawing a smooth line between even draws takes from their spread.
    (a + (b - a) * part * part * (3.0 - 2.0 * part)) * 2.0
}

/// A square of chance that repeats, for the fibres on a yarn.
pub struct Grain {
    cells: Box<[f32; SIDE * SIDE]>,
}

/// Cells to a side of [`Grain`].
const SIDE: usize = 128;

impl Grain {
    /// Even draws from -1 to 1.
    pub fn new(seed: u32) -> Self {
        let cells: Box<[f32]> = (0..(SIDE * SIDE) as u32).map(|i| both(seed, i)).collect();
        Grain { cells: cells.try_into().expect("as many as were drawn") }
    }
    /// Value at (x, y), linear between the cells; repeats every 128 both ways. Both may be negative, to -16 384.
    #[inline]
    pub fn at(&self, x: f32, y: f32) -> f32 {
        // Moved above 0, so that cutting off the fraction rounds down; a number of whole repeats.
        let (x, y) = (x + 16_384.0, y + 16_384.0);
        let (i, j) = (x as i32, y as i32);
        let (fx, fy) = (x - i as f32, y - j as f32);
        let (i, j) = (i as usize % SIDE, j as usize % SIDE * SIDE);
        let (i1, j1) = ((i + 1) % SIDE, (j + SIDE) % (SIDE * SIDE));
        let cell = |i: usize, j: usize| self.cells[(j + i) % (SIDE * SIDE)];
        let (top, low) =
            (cell(i, j) + (cell(i1, j) - cell(i, j)) * fx, cell(i, j1) + (cell(i1, j1) - cell(i, j1)) * fx);
        top + (low - top) * fy
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_chance_has_mean_0_and_spread_1() {
        let draws: Vec<f32> = (0..60_000).map(|i| along(7, i as f32 * 0.37)).collect();
        let n = draws.len() as f32;
        let mean = draws.iter().sum::<f32>() / n;
        let spread = (draws.iter().map(|d| (d - mean) * (d - mean)).sum::<f32>() / n).sqrt();
        assert!(mean.abs() < 0.03 && (spread - 1.0).abs() < 0.05, "{mean} {spread}");
        let wide: Vec<f32> = (0..60_000).map(|i| normal(3, i)).collect();
        let spread = (wide.iter().map(|d| d * d).sum::<f32>() / n).sqrt();
        assert!((spread - 1.0).abs() < 0.02, "{spread}");
    }

    #[test]
    fn grain_repeats_and_is_smooth() {
        let grain = Grain::new(1);
        assert!((grain.at(3.5, -2.0) - grain.at(131.5, 126.0)).abs() < 1e-4);
        assert!((grain.at(3.499, 7.2) - grain.at(3.501, 7.2)).abs() < 0.01);
    }
}
