//! Light on a finished relief: how much of the sky each pixel sees between its neighbours, and whether the lamp reaches it.
//! Works on rows of heights, a fixed pattern of neighbours at a time.

use super::surface::LAMP;

/// Where to look for what stands in the light, in pixels.
pub struct Reach {
    /// Eight directions, near and far: (dx, dy, 1 ÷ distance in mm).
    around: Vec<[(isize, isize, f32); 2]>,
    /// Steps towards the lamp.
    lamp: Vec<(isize, isize, f32)>,
    /// Rows and columns these reach beyond a pixel.
    pub margin: usize,
}

/// Farthest any look may go, in pixels: bounds the work and the memory of a picture of a single crossing.
const FARTHEST: f32 = 56.0;
/// Tangent of the lamp's height, and how soft the edge of its shadow is.
const STEEP: f32 = 0.98;
const SOFT: f32 = 0.9;

impl Reach {
    /// `spacing`: the mean spacing of the threads; `thickness`: of the cloth; `pixel`: all mm.
    pub fn new(spacing: f32, thickness: f32, pixel: f32) -> Self {
        let far = (0.62 * spacing / pixel).min(FARTHEST);
        let near = 0.33 * far;
        let step = |angle: f64, distance: f32| {
            let (sin, cos) = (libm::sin(angle) as f32, libm::cos(angle) as f32);
            let (dx, dy) = ((cos * distance).round(), (sin * distance).round());
            let length = (dx * dx + dy * dy).sqrt().max(1.0) * pixel;
            (dx as isize, dy as isize, 1.0 / length)
        };
        let turn = |i: usize| (i as f64 + 0.35) * std::f64::consts::TAU / 8.0;
        let around = (0..8).map(|i| [step(turn(i), near), step(turn(i), far)]).collect();
        let towards = libm::atan2(f64::from(LAMP[1]), f64::from(LAMP[0]));
        let longest = (thickness / STEEP / pixel).min(FARTHEST);
        let lamp = (1..=9).map(|i| step(towards, longest * i as f32 / 9.0)).collect();
        Reach { around, lamp, margin: far.max(longest).ceil() as usize + 1 }
    }
}

/// Heights of some rows, `stride` wide, with the margin all round.
pub struct Relief<'a> {
    pub heights: &'a [f32],
    pub stride: usize,
}

/// Light in a row: share of the sky seen, and of the lamp.
pub struct Shade {
    pub sky: Vec<f32>,
    pub lamp: Vec<f32>,
    near: Vec<f32>,
}

impl Shade {
    pub fn new(width: usize) -> Self {
        Shade { sky: vec![0.0; width], lamp: vec![0.0; width], near: vec![0.0; width] }
    }

    /// For a relief of gaps: the mean gap about each pixel, into `sky`.
    pub fn glow(&mut self, relief: &Relief, start: usize, reach: &Reach) {
        let width = self.sky.len();
        self.sky.fill(0.0);
        for (dx, dy, _) in reach.around.iter().flatten() {
            let from = (start as isize + dy * relief.stride as isize + dx) as usize;
            for (sum, gap) in self.sky.iter_mut().zip(&relief.heights[from..from + width]) {
                *sum += gap * (1.0 / 16.0);
            }
        }
    }

    /// For the row of the relief that begins at index `start`, which has the margin before it.
    pub fn row(&mut self, relief: &Relief, start: usize, reach: &Reach) {
        let width = self.sky.len();
        let here = &relief.heights[start..start + width];
        let there = |dx: isize, dy: isize| {
            let from = (start as isize + dy * relief.stride as isize + dx) as usize;
            &relief.heights[from..from + width]
        };
        self.sky.fill(0.0);
        for [(ax, ay, a), (bx, by, b)] in &reach.around {
            let (near, far) = (there(*ax, *ay), there(*bx, *by));
            for i in 0..width {
                let slope = ((near[i] - here[i]) * a).max((far[i] - here[i]) * b).max(0.0);
                self.sky[i] += slope / (1.0 + slope * slope).sqrt();
            }
        }
        self.near.fill(0.0);
        for (dx, dy, by) in &reach.lamp {
            let there = there(*dx, *dy);
            for i in 0..width {
                self.near[i] = self.near[i].max((there[i] - here[i]) * by);
            }
        }
        for i in 0..width {
            self.sky[i] = 1.0 - self.sky[i] * 0.125;
            let free = ((STEEP + SOFT * 0.5 - self.near[i]) / SOFT).clamp(0.0, 1.0);
            self.lamp[i] = free * free * (3.0 - 2.0 * free);
        }
    }
}
