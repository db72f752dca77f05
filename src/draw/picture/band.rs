//! The picture of the cloth: bands of rows laid, lit and turned into bytes one after another, the rows of a band by all workers.

use super::chance::along;
use super::hairs::{Hairs, STRIP};
use super::light::{Reach, Relief, Shade};
use super::pixels::Packer;
use super::scene::{Ink, Picks, Plane, Row, Scene};
use super::tone::{Tone, linear};
use super::{ClothLook, Coat, Ground, Pixels, Press, Unseen, View};
use rayon::prelude::*;

/// Fine rows that are lit at a time.
const BAND: usize = 96;
/// Columns between which the fall of the light is drawn straight.
const FALL: usize = 16;
/// Light of the lamp, a little warm, and of the room, a little cool.
const KEY: [f32; 3] = [1.06, 1.01, 0.93];
const SKY: [f32; 3] = [0.44, 0.45, 0.47];

/// The cloth as it lies on a table under a soft light. Refuses a look or a view that is out of range.
pub fn cloth(look: &ClothLook, view: &View) -> Result<Pixels, Unseen> {
    let mut pixels = Pixels::new(view.width, view.height, [0, 0, 0, 255])?;
    pixels.rgba.clear();
    on_a_table(look, view, &mut |band| pixels.rgba.extend_from_slice(band))?;
    Ok(pixels)
}

/// The same as a PNG, packed while it is painted; with `true_size` it says how large a pixel is.
pub fn cloth_png(look: &ClothLook, view: &View, press: Press, true_size: bool) -> Result<Vec<u8>, Unseen> {
    let solid = view.ground != Ground::Clear;
    let mut packer = Packer::new(view.width, view.height, press, solid, true_size.then_some(view.pixel))?;
    on_a_table(look, view, &mut |band| packer.add(band))?;
    Ok(packer.finish())
}

/// The cloth with ink on it.
pub fn printed(look: &ClothLook, view: &View, coat: Coat) -> Result<Pixels, Unseen> {
    let mut pixels = Pixels::new(view.width, view.height, [0, 0, 0, 255])?;
    pixels.rgba.clear();
    let mut shown = Showing::new(look, view, Plane::Height)?;
    shown.scene.coat = Some(coat);
    painted_on_a_table(&shown, view, &mut |band| pixels.rgba.extend_from_slice(band));
    Ok(pixels)
}

fn on_a_table(look: &ClothLook, view: &View, sink: &mut (dyn FnMut(&[u8]) + Send)) -> Result<f64, Unseen> {
    Ok(painted_on_a_table(&Showing::new(look, view, Plane::Height)?, view, sink))
}

fn painted_on_a_table(shown: &Showing, view: &View, sink: &mut (dyn FnMut(&[u8]) + Send)) -> f64 {
    let lighting = Lighting::new(view, shown.scene.seed);
    let light = |ink: &Ink, _, shade: (f32, f32)| lighting.light(ink, shade.0, shade.1);
    shown.paint(light, |number| lighting.falls(number), Shade::row, sink)
}

/// A picture in the making: what is common to those made of bands.
pub(super) struct Showing {
    pub scene: Scene,
    view: View,
    fineness: usize,
    reach: Reach,
    hairs: Hairs,
}

impl Showing {
    pub fn new(look: &ClothLook, view: &View, plane: Plane) -> Result<Self, Unseen> {
        look.check()?;
        view.check(look)?;
        let fineness = view.fineness(look);
        let pixel = (view.pixel / fineness as f64) as f32;
        let spacing = ((look.end_spacing + look.pick_spacing) / 2.0) as f32;
        let reach = Reach::new(spacing, look.thickness() as f32, pixel);
        let scene = Scene::new(look, view, fineness, reach.margin, plane);
        let mut hairs = Hairs::new(&scene, look, view.width * fineness, view.height * fineness);
        if plane == Plane::Gap {
            hairs.against_the_light();
        }
        Ok(Showing { scene, view: *view, fineness, reach, hairs })
    }

    /// Paints the whole and gives it, band by band from the top, to `sink`, which works while the next band is made. `light`:
    /// what a fine pixel sends, from its ink, its place across and down (0 to 1) and its shade; `falls`: what all light of a
    /// line is multiplied by at every [`FALL`]th column; `shade`: fills a row's shade. Gives the share of the picture that no
    /// yarn covers.
    pub fn paint(
        &self,
        light: impl Fn(&Ink, (f32, f32), (f32, f32)) -> [f32; 4] + Sync,
        falls: impl Fn(usize) -> Vec<f32> + Sync,
        shade: impl Fn(&mut Shade, &Relief, usize, &Reach) + Sync,
        sink: &mut (dyn FnMut(&[u8]) + Send),
    ) -> f64 {
        let View { width, height, ground, .. } = self.view;
        let tone = Tone::new();
        let mut bands = Bands::new(&self.scene, width * self.fineness, self.reach.margin, self.fineness);
        let lines = bands.rows / self.fineness;
        let down = 1.0 / (height * self.fineness) as f32;
        let mut bare = 0.0;
        let mut make = |n: usize| {
            let here = lines.min(height - n * lines);
            let rows = here * self.fineness;
            bands.lay(n, rows);
            bare += bands.bare(rows);
            let first = n * bands.rows;
            let mut fine = bands
                .light(rows, &self.reach, &shade, |ink, (x, row), s| light(ink, (x, (first + row) as f32 * down), s));
            bands.draw_hairs(&mut fine, n, &self.hairs);
            let mut out = vec![255; here * width * 4];
            out.par_chunks_mut(width * 4).enumerate().for_each(|(y, line)| {
                let part = &fine[y * self.fineness * bands.width..][..self.fineness * bands.width];
                develop(part, self.fineness, &falls(n * lines + y), &tone, ground == Ground::Clear, line);
            });
            out
        };
        let mut ready = make(0);
        for n in 1..height.div_ceil(lines) {
            ready = rayon::join(|| sink(&ready), || make(n)).1;
        }
        sink(&ready);
        bare / (width * height * self.fineness * self.fineness) as f64
    }
}

/// Fine pixels into one line of bytes.
fn develop(light: &[[f32; 4]], fineness: usize, falls: &[f32], tone: &Tone, clear: bool, line: &mut [u8]) {
    let width = light.len() / fineness;
    let share = 1.0 / (fineness * fineness) as f32;
    let mean = |x: usize| {
        let mut sum = [0.0f32; 4];
        for row in 0..fineness {
            let start = row * width + x * fineness;
            for fine in &light[start..start + fineness] {
                (0..4).for_each(|i| sum[i] += fine[i]);
            }
        }
        sum
    };
    for (x, out) in line.chunks_exact_mut(4).enumerate() {
        let sum = if fineness == 1 { light[x] } else { mean(x) };
        let (n, part) = (x / FALL, (x % FALL) as f32 / FALL as f32);
        let fall = (falls[n] + (falls[n + 1] - falls[n]) * part) * share;
        (0..3).for_each(|i| out[i] = tone.byte(sum[i] * fall));
        if clear {
            // Colours of a clear picture are as solid as what they are of.
            let solid = (sum[3] * share).clamp(1e-3, 1.0);
            (0..3).for_each(|i| out[i] = tone.byte(sum[i] * fall / solid));
            out[3] = (solid * 255.0 + 0.5) as u8;
        }
    }
}

/// The rows in hand.
struct Bands<'a> {
    scene: &'a Scene,
    /// Fine pixels in a row without the margin.
    width: usize,
    margin: usize,
    stride: usize,
    /// Rows lit at a time; a whole number of pixels.
    rows: usize,
    heights: Vec<f32>,
    inks: Vec<Ink>,
    /// Rows already laid, from the top of `heights`.
    laid: usize,
}

impl<'a> Bands<'a> {
    fn new(scene: &'a Scene, width: usize, margin: usize, fineness: usize) -> Self {
        // A whole number of pixels and of strips of hairs.
        let rows = (BAND / (fineness * STRIP)).max(1) * fineness * STRIP;
        let stride = width + 2 * margin;
        let all = stride * (rows + 2 * margin);
        Bands {
            scene,
            width,
            margin,
            stride,
            rows,
            heights: vec![0.0; all],
            inks: vec![Ink::default(); width * (rows + 2 * margin)],
            laid: 0,
        }
    }

    /// Lays what is missing for band `n` of `rows` rows, keeping from the band before what both need.
    fn lay(&mut self, n: usize, rows: usize) {
        if n > 0 {
            let kept = self.rows..self.rows + 2 * self.margin;
            self.heights.copy_within(kept.start * self.stride..kept.end * self.stride, 0);
            self.inks.copy_within(kept.start * self.width..kept.end * self.width, 0);
            self.laid = 2 * self.margin;
        }
        let (first, last) = (self.laid, rows + 2 * self.margin);
        let top = (n * self.rows) as i64 - self.margin as i64;
        let left = -(self.margin as i64);
        let numbers = (top + first as i64, top + last as i64 - 1);
        let picks: Picks = self.scene.picks(numbers, left, self.stride);
        let heights = self.heights[first * self.stride..last * self.stride].par_chunks_mut(self.stride);
        let inks = self.inks[first * self.width..last * self.width].par_chunks_mut(self.width);
        heights.zip(inks).enumerate().for_each_init(
            || Row::new(self.stride),
            |work, (i, (heights, inks))| {
                self.scene.row((numbers.0 + i as i64, left), &picks, work, heights, inks);
            },
        );
        self.laid = last;
    }

    /// Pixels' worth of `rows` rows that no yarn covers.
    fn bare(&self, rows: usize) -> f64 {
        let inks = &self.inks[self.margin * self.width..][..rows * self.width];
        inks.iter().map(|ink| f64::from(1.0 - ink.cover)).sum()
    }

    /// Light that `rows` rows send, red green blue and cover; see [`Showing::paint`].
    fn light(
        &self,
        rows: usize,
        reach: &Reach,
        fill: &(impl Fn(&mut Shade, &Relief, usize, &Reach) + Sync),
        light: impl Fn(&Ink, (f32, usize), (f32, f32)) -> [f32; 4] + Sync,
    ) -> Vec<[f32; 4]> {
        let mut out = vec![[0.0; 4]; rows * self.width];
        let relief = Relief { heights: &self.heights, stride: self.stride };
        let across = 1.0 / self.width as f32;
        out.par_chunks_mut(self.width).enumerate().for_each_init(
            || Shade::new(self.width),
            |shade, (row, line)| {
                let start = (row + self.margin) * self.stride + self.margin;
                fill(shade, &relief, start, reach);
                let inks = &self.inks[(row + self.margin) * self.width..][..self.width];
                for (i, out) in line.iter_mut().enumerate() {
                    *out = light(&inks[i], (i as f32 * across, row), (shade.sky[i], shade.lamp[i]));
                }
            },
        );
        out
    }

    fn draw_hairs(&self, light: &mut [[f32; 4]], n: usize, hairs: &Hairs) {
        let first = n * self.rows;
        light.par_chunks_mut(self.width * STRIP).enumerate().for_each(|(part, lines)| {
            hairs.draw(first / STRIP + part, lines, self.width, |x, y| {
                let here = self.heights[(y - first + self.margin) * self.stride + x + self.margin];
                if self.scene.plane == Plane::Gap { 1.0 - here } else { here }
            });
        });
    }
}

/// Light of the room.
struct Lighting {
    ground: [f32; 3],
    view: View,
    seed: u32,
}

impl Lighting {
    fn new(view: &View, seed: u32) -> Self {
        let ground = match view.ground {
            Ground::Table => [0.105, 0.088, 0.076],
            Ground::Colour(rgb) => rgb.map(linear),
            Ground::Clear => [0.0; 3],
        };
        Lighting { ground, view: *view, seed }
    }

    #[inline]
    fn light(&self, ink: &Ink, sky: f32, lamp: f32) -> [f32; 4] {
        // Light that comes to a gap by way of its walls takes their warm colour.
        let open = sky * sky;
        let round =
            [open + (1.0 - open) * open * 0.62, open + (1.0 - open) * open * 0.50, open + (1.0 - open) * open * 0.36];
        let bare = 1.0 - ink.cover;
        let one = |i: usize| {
            ink.soft[i] * SKY[i] * round[i]
                + (ink.lit[i] + ink.sheen * 0.55) * KEY[i] * lamp
                + self.ground[i] * bare * (SKY[i] * (0.40 + 0.60 * open) + KEY[i] * 0.7 * (0.22 + 0.16 * lamp))
        };
        [one(0), one(1), one(2), ink.cover]
    }

    /// The lamp is nearer to one corner, and no cloth lies quite flat: light at each [`FALL`]th column of a line.
    fn falls(&self, number: usize) -> Vec<f32> {
        let y = number as f32 / self.view.height as f32;
        let at = |n: usize| {
            let x = (n * FALL) as f32 / self.view.width as f32;
            let wave = along(self.seed ^ 77, x * 2.3 + y * 1.1) + along(self.seed ^ 78, y * 2.7 - x * 0.8);
            1.07 - 0.08 * (x + y) + 0.014 * wave
        };
        (0..self.view.width / FALL + 2).map(at).collect()
    }
}
