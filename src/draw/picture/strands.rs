//! Where every yarn lies: the threads of one direction with their straying, their thickness from place to place, their path over
//! and under, and, when plied, the strands that wind about each other. Made once a picture, asked row by row.

use super::chance::{along, floor, normal, unit};
use super::look::{Hand, Path, YarnLook};

/// A strand of yarn where it passes a row (warp) or a column (weft) of pixels. Millimetres.
#[derive(Clone, Copy, Debug, Default)]
pub struct Strand {
    /// Middle, across the thread.
    pub mid: f32,
    /// Half its width.
    pub half: f32,
    /// Height of its middle line.
    pub z: f32,
    /// Cosine and sine of its slope along the thread.
    pub cos: f32,
    pub sin: f32,
    /// Turns of twist up to here, less whole multiples of 128.
    pub turn: f32,
    /// Which thread.
    pub thread: u32,
}

/// Steps of the table of a path.
const STEPS: usize = 128;

/// All threads of one direction.
pub struct System {
    /// Middle of each thread across, rising; the first lies before the picture.
    pub places: Vec<f32>,
    /// Linear red, green, blue of each thread.
    pub colours: Vec<[f32; 3]>,
    /// Which way the twist winds on the picture: +1 or -1 for the place of a fibre to grow or shrink along the thread.
    pub sense: f32,
    /// Cosine and sine of the angle of the surface fibres.
    pub fibre: (f32, f32),
    /// Height ÷ width of the yarn.
    pub flatten: f32,
    /// 0 dull to 1 shining.
    pub lustre: f32,
    /// Half the mean width of one strand.
    pub half: f32,
    yarn_half: f32,
    unevenness: f32,
    stray: f32,
    stray_length: f32,
    twist: f32,
    plies: Vec<f32>,
    ply_twist: f32,
    ply_share: (f32, f32),
    crest: f32,
    path: Vec<(f32, f32)>,
    seed: u32,
}

/// What a system is made of beside its yarn.
pub struct Laying<'a> {
    pub yarn: &'a YarnLook,
    pub spacing: f64,
    pub path: Path,
    /// Spacing of the threads it crosses.
    pub across: f64,
    pub straying: f64,
    /// Whether the threads run down the picture.
    pub down: bool,
    pub seed: u32,
}

impl System {
    /// Threads enough to cover `span` mm and one more at each side; `colour` gives a thread's linear colour.
    pub fn new(laying: &Laying, span: (f64, f64), colour: impl Fn(i64) -> [f32; 3]) -> Self {
        let yarn = laying.yarn;
        let first = (span.0 / laying.spacing).floor() as i64 - 1;
        let last = (span.1 / laying.spacing).ceil() as i64 + 1;
        let stray = (laying.straying * laying.spacing) as f32;
        let place = |i: i64| {
            let jitter = normal(laying.seed ^ 0xA5, i as u32) * stray;
            ((i as f64 + 0.5) * laying.spacing) as f32
                + jitter.clamp(-0.3 * laying.spacing as f32, 0.3 * laying.spacing as f32)
        };
        let (ply_radius, ply_offset) = ply_shares(yarn.plies);
        let half = yarn.diameter as f32 / 2.0;
        let surface = std::f64::consts::PI * yarn.diameter * f64::from(ply_radius) * yarn.twist / 1000.0;
        let steep = libm::atan(surface);
        // A fibre of a Z yarn that runs down the picture goes left as it goes down; of one that runs across, down.
        let sense = if (yarn.hand == Hand::Z) == laying.down { 1.0 } else { -1.0 };
        System {
            places: (first..=last).map(place).collect(),
            colours: (first..=last).map(colour).collect(),
            sense,
            fibre: (libm::cos(steep) as f32, libm::sin(steep) as f32),
            flatten: yarn.flatten as f32,
            lustre: yarn.lustre as f32,
            half: half * ply_radius,
            yarn_half: half,
            unevenness: yarn.unevenness as f32,
            stray,
            stray_length: (laying.across * 5.0) as f32,
            twist: (yarn.twist / 1000.0) as f32,
            plies: (0..yarn.plies).map(|j| f32::from(j) / f32::from(yarn.plies)).collect(),
            ply_twist: (yarn.ply_twist / 1000.0) as f32,
            ply_share: (ply_radius, ply_offset),
            crest: (laying.path.height / 2.0) as f32,
            path: path_table(&laying.path),
            seed: laying.seed,
        }
    }

    /// Farthest that any part of a thread may lie from its place, mm: it strays and it has thick places.
    pub fn widest(&self) -> f32 {
        self.yarn_half * (1.0 + 3.4 * self.unevenness).min(2.2) + 1.8 * self.stray
    }

    /// Strands in a yarn.
    pub fn strands(&self) -> usize {
        self.plies.len()
    }

    /// The strands of `thread` at `s` mm along it, between two crossings: `t` of the way (0 to 1) from one where it lies
    /// up (or not) to the next.
    pub fn at(&self, thread: usize, s: f32, t: f32, up: (bool, bool), out: &mut [Strand]) {
        let seed = self.seed ^ (thread as u32).wrapping_mul(0x9E37_79B1);
        let thick = 0.66 * along(seed, s / 7.0) + 0.5 * along(seed ^ 1, s / 31.0) + 0.5 * along(seed ^ 2, s / 1.9);
        let half = self.yarn_half * (1.0 + self.unevenness * thick).clamp(0.4, 2.2);
        let stray =
            0.55 * along(seed ^ 3, s / self.stray_length) + 0.35 * along(seed ^ 4, s / (self.stray_length * 0.37));
        // Fibres that lie over the edge make it rough at a scale of a few of their widths.
        let rough = (along(seed ^ 5, s / (0.31 * self.yarn_half)), along(seed ^ 6, s / (0.43 * self.yarn_half)));
        let half = half * (1.0 + 0.022 * rough.0);
        let mid = self.places[thread] + self.stray * stray + 0.018 * half * rough.1;
        let (z, rise) = self.height(t, up);
        let cos = 1.0 / (1.0 + rise * rise).sqrt();
        let turn = s * self.twist + 37.0 * unit(seed, 9);
        let base = Strand {
            mid,
            half,
            z,
            cos,
            sin: rise * cos,
            turn: turn - floor(turn / 128.0) * 128.0,
            thread: thread as u32,
        };
        if self.plies.len() == 1 {
            out[0] = base;
            return;
        }
        // Plies wind the other way than their own twist.
        let wound = self.sense * self.ply_twist * s + unit(seed, 11);
        for (ply, strand) in self.plies.iter().zip(out) {
            let angle = (wound + ply) * std::f32::consts::TAU;
            let (sin, cos) = libm::sincosf(angle);
            let (radius, offset) = self.ply_share;
            *strand = Strand {
                mid: mid + half * offset * sin,
                half: half * radius,
                z: z + half * offset * self.flatten * cos,
                turn: base.turn + ply * 61.0,
                ..base
            };
        }
    }

    /// Height of the middle line and its slope.
    #[inline]
    fn height(&self, t: f32, (from, to): (bool, bool)) -> (f32, f32) {
        let sign = if from { 1.0 } else { -1.0 };
        if from == to {
            return (sign * self.crest, 0.0);
        }
        let place = t.clamp(0.0, 1.0) * STEPS as f32;
        let i = (place as usize).min(STEPS - 1);
        let part = place - i as f32;
        let ((z0, r0), (z1, r1)) = (self.path[i], self.path[i + 1]);
        (sign * (z0 + (z1 - z0) * part), sign * (r0 + (r1 - r0) * part))
    }
}

/// Radius of a ply and distance of its middle from the yarn's, both over the yarn's half width: equal circles in a circle.
fn ply_shares(plies: u8) -> (f32, f32) {
    if plies < 2 {
        return (1.0, 0.0);
    }
    let sin = libm::sin(std::f64::consts::PI / f64::from(plies));
    let radius = sin / (1.0 + sin);
    (radius as f32, (1.0 - radius) as f32)
}

fn path_table(path: &Path) -> Vec<(f32, f32)> {
    let step = path.spacing / STEPS as f64;
    (0..=STEPS)
        .map(|i| {
            let (z, slope) = path.at(step * i as f64);
            (z as f32, slope as f32)
        })
        .collect()
}

/// Which two of `places` a position lies between, and how far on the way: the index of the lower and 0 to 1. Positions beyond
/// the ends take the last pair.
pub fn between(places: &[f32], at: f32) -> (usize, f32) {
    let i = places.partition_point(|&p| p <= at).clamp(1, places.len() - 1) - 1;
    (i, ((at - places[i]) / (places[i + 1] - places[i])).clamp(0.0, 1.0))
}
