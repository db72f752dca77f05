//! A proof: plates as flat colours on the cloth's own colour, in pixels. For looking at what goes where, not at how it will look on yarn.

use crate::draw::picture::{Pixels, Press};
use crate::print::separate::{Separation, seen_bytes};

/// Widest proof, pixels.
const WIDEST: usize = 1200;

/// The proof as PNG, at most 1200 pixels across.
pub fn png(parted: &Separation, cloth: [u8; 3]) -> Vec<u8> {
    let Some(first) = parted.plates.first() else { return Vec::new() };
    let width = first.width.min(WIDEST);
    let height = (first.height * width / first.width).max(1);
    let plates: Vec<_> = parted.plates.iter().map(|plate| plate.reduced(width, height)).collect();
    let Ok(mut pixels) = Pixels::new(width, height, [cloth[0], cloth[1], cloth[2], 255]) else { return Vec::new() };
    for (at, pixel) in pixels.rgba.chunks_exact_mut(4).enumerate() {
        let share = |ink: usize| f64::from(plates[ink].cover[at]) / 255.0;
        if (0..plates.len()).any(|ink| plates[ink].cover[at] > 0) {
            pixel[..3].copy_from_slice(&seen_bytes(&parted.inks, share, cloth));
        }
    }
    pixels.png(Press::Fast, None)
}
