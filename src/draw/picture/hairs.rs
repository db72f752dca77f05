//! Fibre ends that stand out of the yarns: thin bent lines over the finished picture, each from its own place and chance.
//! Most are short and lie close, a few are long; together they take the hard edge off a yarn.

use super::chance::{both, unit};
use super::scene::Scene;
use super::strands::{Strand, System, between};
use super::{ClothLook, YarnLook};

/// One hair as a few straight pieces, in fine pixels.
struct Hair {
    points: [(f32, f32); PIECES + 1],
    /// Height where it leaves the yarn and what it gains to the tip, mm.
    height: f32,
    gain: f32,
    light: [f32; 3],
    solid: f32,
    half: f32,
}

const PIECES: usize = 5;
/// Width of a fibre, mm.
const FIBRE: f32 = 0.016;
/// Short hairs that lie close, for each that stands out.
const CLOSE: f32 = 9.0;
/// Hairs that are too faint to see are not drawn.
const FAINTEST: f32 = 0.05;
/// Most hairs of a picture: bounds its work.
const MOST: usize = 300_000;

/// All hairs of a picture, by the strip of rows they touch.
pub struct Hairs {
    hairs: Vec<Hair>,
    strips: Vec<Vec<u32>>,
    /// Fine pixels a millimetre.
    scale: f32,
}

/// Rows of a strip.
pub const STRIP: usize = 8;

impl Hairs {
    /// For `rows` fine rows and `columns` fine columns.
    pub fn new(scene: &Scene, look: &ClothLook, columns: usize, rows: usize) -> Self {
        let scale = 1.0 / scene.pixel;
        let mut all = Hairs { hairs: Vec::new(), strips: vec![Vec::new(); rows.div_ceil(STRIP)], scale };
        if FIBRE * scale * 0.8 < FAINTEST {
            return all;
        }
        let size = (columns as f32 * scene.pixel, rows as f32 * scene.pixel);
        all.of(scene, &scene.warp, &look.warp, size, true);
        all.of(scene, &scene.weft, &look.weft, size, false);
        for (number, hair) in all.hairs.iter().enumerate() {
            let ys = hair.points.iter().map(|p| p.1);
            let (low, high) = (ys.clone().fold(f32::MAX, f32::min) - 2.0, ys.fold(f32::MIN, f32::max) + 2.0);
            if high < 0.0 {
                continue;
            }
            let from = low.max(0.0) as usize / STRIP;
            for strip in all.strips.iter_mut().take(high as usize / STRIP + 1).skip(from) {
                strip.push(number as u32);
            }
        }
        all
    }

    /// Hairs of one system.
    fn of(&mut self, scene: &Scene, system: &System, yarn: &YarnLook, size: (f32, f32), down: bool) {
        let length = if down { size.1 } else { size.0 };
        let density = yarn.hairs as f32 * (1.0 + CLOSE);
        let each = (length * density) as usize;
        if each == 0 || each.saturating_mul(system.places.len()) + self.hairs.len() > MOST {
            return;
        }
        for thread in 0..system.places.len() {
            for n in 0..each {
                let seed = scene.seed ^ 0x6A09 ^ ((thread as u32) << 1 | u32::from(down)).wrapping_mul(0x85EB_CA6B);
                let chance = |k: u32| unit(seed ^ (k << 24), n as u32);
                let s = (n as f32 + chance(1)) / density;
                let strand = strand_at(scene, system, thread, s, down);
                self.hairs.push(self.hair(system, &strand, s, yarn, down, &chance));
            }
        }
    }

    fn hair(
        &self,
        system: &System,
        strand: &Strand,
        s: f32,
        yarn: &YarnLook,
        down: bool,
        chance: &dyn Fn(u32) -> f32,
    ) -> Hair {
        let stands = chance(2) < 1.0 / (1.0 + CLOSE);
        let mean = yarn.hair_length as f32;
        let length = if stands { mean * (0.3 + 1.6 * chance(3) * chance(3)) } else { mean * (0.12 + 0.26 * chance(3)) };
        let side = if chance(4) < 0.5 { -1.0 } else { 1.0 };
        let out = if stands { 0.5 + 0.5 * chance(5) } else { chance(5) };
        // Away from the yarn at a low angle if it lies close, at any if it stands.
        let lean = if stands { 0.35 + 0.9 * chance(6) } else { 0.08 + 0.42 * chance(6) };
        let mut angle = lean * side * if chance(7) < 0.7 { 1.0 } else { -0.6 };
        let bend = (chance(8) - 0.5) * if stands { 2.6 } else { 1.6 } / PIECES as f32;
        let ahead = if chance(9) < 0.5 { 1.0 } else { -1.0 };
        let (mut across, mut along) = (strand.mid + side * out * strand.half, s);
        let step = length / PIECES as f32;
        let points = std::array::from_fn(|_| {
            let here = if down { (across, along) } else { (along, across) };
            across += libm::sinf(angle) * step;
            along += libm::cosf(angle) * step * ahead;
            angle += bend;
            (here.0 * self.scale, here.1 * self.scale)
        });
        let bright = if stands { 0.55 } else { 0.62 } + 0.5 * chance(10);
        let arch = (1.0 - out * out).max(0.0).sqrt();
        let half = (FIBRE * self.scale * 0.5).max(0.5);
        Hair {
            points,
            height: strand.z + strand.half * arch + 0.01,
            gain: if stands { 0.6 * length * chance(11) } else { 0.05 * length },
            light: system.colours[strand.thread as usize].map(|c| (c * bright + 0.02).min(1.0)),
            solid: (FIBRE * self.scale * 0.5 / half).min(1.0) * if stands { 0.46 } else { 0.42 },
            half,
        }
    }

    /// Makes hairs what they are against the light: darker than it, and seen in the gaps only, where the relief is below a half.
    pub fn against_the_light(&mut self) {
        for hair in &mut self.hairs {
            hair.light = hair.light.map(|c| 0.75 * c);
            (hair.height, hair.gain) = (0.5, 0.0);
        }
    }

    /// Draws the part in one strip of light, `width` fine pixels wide; `height` gives the relief under a pixel of the picture.
    pub fn draw(&self, strip: usize, lines: &mut [[f32; 4]], width: usize, height: impl Fn(usize, usize) -> f32) {
        for &number in self.strips.get(strip).map_or(&[][..], |s| s) {
            let hair = &self.hairs[number as usize];
            for piece in 0..PIECES {
                self.piece(hair, piece, strip * STRIP, lines, width, &height);
            }
        }
    }

    fn piece(
        &self,
        hair: &Hair,
        n: usize,
        first: usize,
        lines: &mut [[f32; 4]],
        width: usize,
        height: &impl Fn(usize, usize) -> f32,
    ) {
        let ((ax, ay), (bx, by)) = (hair.points[n], hair.points[n + 1]);
        let (dx, dy) = (bx - ax, by - ay);
        let length = (dx * dx + dy * dy).sqrt();
        let reach = hair.half + 0.5;
        let rows = lines.len() / width;
        let from = ((ay.min(by) - reach) - first as f32).max(0.0) as usize;
        let to = ((ay.max(by) + reach) - first as f32 + 1.0).clamp(0.0, rows as f32) as usize;
        if length < 1e-3 || ax.max(bx) + reach < 0.0 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        for row in from..to {
            let y = (first + row) as f32 + 0.5;
            // Columns within reach of the line at this row, no farther than the piece.
            let (mut left, mut right) = (ax.min(bx) - reach, ax.max(bx) + reach);
            if uy.abs() > 0.05 {
                let (x, wide) = (ax + (y - ay) * ux / uy, reach / uy.abs());
                (left, right) = (left.max(x - wide), right.min(x + wide));
            }
            let (left, right) = (left.max(0.0) as usize, (right + 1.0).clamp(0.0, width as f32) as usize);
            for x in left..right {
                let (px, py) = (x as f32 + 0.5 - ax, y - ay);
                let (along, off) = (px * ux + py * uy, (px * uy - py * ux).abs());
                if along < 0.0 || along >= length || off >= reach {
                    continue;
                }
                let t = (n as f32 + along / length) / PIECES as f32;
                let above = hair.height + hair.gain * t - height(x, first + row);
                let seen = (above * 25.0 + 0.6).clamp(0.0, 1.0) * (reach - off).min(1.0) * (1.0 - t * t * t);
                blend(&mut lines[row * width + x], hair, seen * hair.solid);
            }
        }
    }
}

#[inline]
fn blend(light: &mut [f32; 4], hair: &Hair, share: f32) {
    for (under, over) in light.iter_mut().zip(hair.light) {
        *under += (over - *under) * share;
    }
    light[3] += (1.0 - light[3]) * share;
}

fn strand_at(scene: &Scene, system: &System, thread: usize, s: f32, down: bool) -> Strand {
    let crossed = if down { &scene.weft } else { &scene.warp };
    let (n, t) = between(&crossed.places, s);
    let up = |k: usize| if down { scene.up(thread, k) } else { !scene.up(k, thread) };
    let mut strands = [Strand::default(); 6];
    system.at(thread, s, t, (up(n), up(n + 1)), &mut strands[..system.strands()]);
    let highest = strands[..system.strands()].iter().fold(strands[0], |a, b| if b.z > a.z { *b } else { a });
    Strand { mid: highest.mid + both(thread as u32, s.to_bits()) * 0.1 * highest.half, ..highest }
}
