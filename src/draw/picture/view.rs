//! Which part of a cloth is seen, how large, and on what it lies.

use super::{ClothLook, Pixels, Unseen};

/// Most fine pixels of one picture: bounds its time to some seconds. A picture that wants more is drawn coarser.
const MOST_FINE: usize = 1 << 26;

/// Which side of the cloth is up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Side {
    #[default]
    Face,
    Back,
}

/// What shows through the gaps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Ground {
    /// A dark table top.
    #[default]
    Table,
    /// Something of an sRGB colour.
    Colour([u8; 3]),
    /// Nothing: the gaps are clear, to be laid over another picture.
    Clear,
}

/// A window on the cloth. The warp runs up the picture, the first end is at the left and the first pick at the bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Pixels across and down.
    pub width: usize,
    pub height: usize,
    /// Millimetres a pixel.
    pub pixel: f64,
    pub side: Side,
    pub ground: Ground,
}

impl View {
    /// `width` by `height` pixels that show about `ends` ends across.
    pub fn of_ends(look: &ClothLook, ends: f64, width: usize, height: usize) -> Self {
        let pixel = look.end_spacing * ends / width.max(1) as f64;
        View { width, height, pixel, side: Side::Face, ground: Ground::Table }
    }
    /// A square `side` mm wide for a printer of `dpi` dots an inch, to be held beside the real cloth.
    pub fn true_size(side: f64, dpi: f64) -> Self {
        let pixels = (side / 25.4 * dpi).round().max(1.0) as usize;
        View { width: pixels, height: pixels, pixel: 25.4 / dpi, side: Side::Face, ground: Ground::Table }
    }
    /// The same window on the other side.
    pub fn back(self) -> Self {
        View { side: Side::Back, ..self }
    }

    /// Refuses sizes that are none, and a view so wide that threads are lost in it (narrower than a fifth of a pixel).
    pub(super) fn check(&self, look: &ClothLook) -> Result<(), Unseen> {
        let thinnest = look.warp.diameter.min(look.weft.diameter);
        Pixels::holds(self.width, self.height)?;
        if !(self.pixel > 0.0 && self.pixel <= thinnest * 5.0) {
            let message = format!("a picture at {} mm a pixel cannot show yarn of {thinnest} mm", self.pixel);
            return Err(Unseen(message));
        }
        if self.pixel < thinnest / 4000.0 {
            return Err(Unseen(format!("at {} mm a pixel one yarn would fill the wall", self.pixel)));
        }
        Ok(())
    }

    /// How many finer pixels each way make one, so that the thinnest yarn is a few pixels wide while it is drawn.
    pub(super) fn fineness(&self, look: &ClothLook) -> usize {
        let strand = |y: &super::YarnLook| y.diameter / if y.plies > 1 { 2.0 } else { 1.0 };
        let thinnest = strand(&look.warp).min(strand(&look.weft));
        let wanted = (self.pixel * 3.5 / thinnest).ceil().clamp(1.0, 18.0) as usize;
        let allowed = (MOST_FINE as f64 / (self.width * self.height) as f64).sqrt() as usize;
        wanted.min(allowed).max(1)
    }
}
