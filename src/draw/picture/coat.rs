//! Ink on a cloth that is looked at: it lies on the high parts of the yarns as far down as it was pressed, is missing in the gaps, and has
//! spread past its edges. How deep it goes and what a wash takes is this project's choice after looking, not a measurement.

use super::chance::{along, unit};
use super::tone::linear;
use crate::print::plate::Plate;

/// One ink as it lies, spread already counted.
#[derive(Clone, Debug)]
pub struct Layer {
    pub plate: Plate,
    /// sRGB.
    pub rgb: [u8; 3],
    /// It hides what is below.
    pub opaque: bool,
}

/// All ink on a piece of cloth.
#[derive(Clone, Debug)]
pub struct Coat {
    /// First printed first.
    pub layers: Vec<Layer>,
    /// Side of the plates' squares, mm of the cloth that is seen.
    pub pixel: f64,
    /// Where the plates' top left corner lies in the view, mm.
    pub at: (f64, f64),
    /// How far below the cloth's highest yarn ink reaches, mm.
    pub reach: f64,
    /// 0 fresh to 1 washed many times.
    pub worn: f64,
}

/// Most of a yarn's own colour that ink hides; fibres that stick out stay bare.
const HIDES: f32 = 0.95;

impl Coat {
    /// The colour of a yarn's skin at (x, y) mm of the view, `below` mm under the highest yarn.
    #[inline]
    pub(super) fn over(&self, yarn: [f32; 3], (x, y): (f32, f32), below: f32, thread: u32, turn: f32) -> [f32; 3] {
        let place = |v: f32, at: f64| (v - at as f32) / self.pixel as f32;
        let (px, py) = (place(x, self.at.0), place(y, self.at.1));
        if self.layers.iter().all(|layer| layer.plate.near(px, py) <= 0.0) {
            return yarn;
        }
        // no two crossings take ink alike
        let uneven = 0.22 * along(thread ^ 0x51, turn * 0.31) + 0.10 * (unit(thread, 7) - 0.5);
        let worn = self.worn as f32;
        let reach = self.reach as f32 * (1.0 + uneven);
        let soft = 0.22 * self.reach as f32;
        let down = ((reach - below) / soft + 0.5).clamp(0.0, 1.0);
        if down <= 0.0 {
            return yarn;
        }
        // rubbing takes ink from the very tops first
        let tops = (1.0 - below / (0.35 * self.reach as f32)).clamp(0.0, 1.0);
        let rubbed = 1.0 - worn * (0.08 + 0.26 * tops * (0.6 + uneven));
        let held = HIDES * down * rubbed.clamp(0.0, 1.0);
        let mut colour = yarn;
        for layer in &self.layers {
            let share = layer.plate.near(px, py) * held;
            if share <= 0.0 {
                continue;
            }
            let own = layer.rgb.map(linear);
            for i in 0..3 {
                let through = if layer.opaque { 1.0 } else { 0.35 + 0.65 * (colour[i] / yarn[i].max(0.02)).min(1.0) };
                colour[i] += (own[i] * through - colour[i]) * share;
            }
        }
        colour
    }
}
