//! Pixels and their PNG. Knows nothing of cloth.

use super::Unseen;

/// A picture, four bytes a pixel: red, green, blue (sRGB), and how solid (255) or clear (0) it is.
#[derive(Clone, PartialEq, Eq)]
pub struct Pixels {
    pub width: usize,
    pub height: usize,
    pub rgba: Vec<u8>,
}

/// Most pixels of one picture; 64 MB.
pub const MOST_PIXELS: usize = 1 << 24;

/// How hard to press.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// For the screen now.
    Fast,
    /// For a file that is kept; some ten times slower.
    Small,
}

impl Pixels {
    /// Refuses no pixels and more than [`MOST_PIXELS`].
    pub(super) fn holds(width: usize, height: usize) -> Result<usize, Unseen> {
        match width.saturating_mul(height) {
            0 => Err(Unseen("a picture with no pixels".into())),
            n if n > MOST_PIXELS => {
                Err(Unseen(format!("a picture of {width} x {height} pixels; it takes at most {MOST_PIXELS} in all")))
            }
            n => Ok(n),
        }
    }

    /// All of one colour. Refuses no pixels and more than [`MOST_PIXELS`].
    pub fn new(width: usize, height: usize, rgba: [u8; 4]) -> Result<Self, Unseen> {
        Ok(Pixels { width, height, rgba: rgba.repeat(Self::holds(width, height)?) })
    }

    /// As PNG. With `pixel` (mm a pixel) its true size is written into the file, so that a printer keeps it.
    pub fn png(&self, press: Press, pixel: Option<f64>) -> Vec<u8> {
        let mut out = Vec::with_capacity(self.rgba.len() / 2);
        let mut encoder = png::Encoder::new(&mut out, self.width as u32, self.height as u32);
        encoder.set_color(png::ColorType::Rgba);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
        encoder.set_compression(match press {
            Press::Fast => png::Compression::Fast,
            Press::Small => png::Compression::High,
        });
        if let Some(pixel) = pixel {
            let per_metre = (1000.0 / pixel).round().clamp(1.0, f64::from(u32::MAX)) as u32;
            let dims = png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter };
            encoder.set_pixel_dims(Some(dims));
        }
        // Writing to memory cannot fail, and the sizes were checked when the pixels were made.
        let written = encoder.write_header().and_then(|mut w| w.write_image_data(&self.rgba));
        debug_assert!(written.is_ok(), "{written:?}");
        out
    }

    /// Pictures of one height side by side, `gap` pixels of `rgba` between them.
    pub fn beside(pictures: &[Pixels], gap: usize, rgba: [u8; 4]) -> Result<Self, Unseen> {
        let height = pictures.iter().map(|p| p.height).max().unwrap_or(0);
        let width = pictures.iter().map(|p| p.width).sum::<usize>() + gap * pictures.len().saturating_sub(1);
        let mut all = Pixels::new(width, height, rgba)?;
        let mut left = 0;
        for picture in pictures {
            for (row, line) in picture.rgba.chunks_exact(picture.width * 4).enumerate() {
                let start = (row * width + left) * 4;
                all.rgba[start..start + line.len()].copy_from_slice(line);
            }
            left += picture.width + gap;
        }
        Ok(all)
    }
}

impl std::fmt::Debug for Pixels {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} x {} pixels", self.width, self.height)
    }
}
