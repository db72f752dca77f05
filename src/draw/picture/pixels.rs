//! Pixels and their PNG. Knows nothing of cloth.

use super::Unseen;
use std::io::Write;
use std::sync::{Arc, Mutex, PoisonError};

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
        let solid = self.rgba.chunks_exact(4).all(|pixel| pixel[3] == 255);
        let Ok(mut packer) = Packer::new(self.width, self.height, press, solid, pixel) else { return Vec::new() };
        packer.add(&self.rgba);
        packer.finish()
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

/// A PNG in the making, given its rows piece by piece.
pub struct Packer {
    writer: png::StreamWriter<'static, Bytes>,
    out: Bytes,
    /// Nothing of the picture is clear: the fourth byte of each pixel is left out.
    solid: bool,
}

/// Bytes that the writer fills and the packer takes when it is done.
#[derive(Clone, Default)]
struct Bytes(Arc<Mutex<Vec<u8>>>);

impl Write for Bytes {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).extend_from_slice(bytes);
        Ok(bytes.len())
    }
    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

impl Packer {
    /// `solid`: nothing of the picture is clear; `pixel`: mm a pixel, if the file is to say so.
    pub fn new(width: usize, height: usize, press: Press, solid: bool, pixel: Option<f64>) -> Result<Self, Unseen> {
        Pixels::holds(width, height)?;
        let out = Bytes::default();
        let mut encoder = png::Encoder::new(out.clone(), width as u32, height as u32);
        encoder.set_color(if solid { png::ColorType::Rgb } else { png::ColorType::Rgba });
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
        let failed = |why: png::EncodingError| Unseen(why.to_string());
        let writer = encoder.write_header().map_err(failed)?.into_stream_writer_with_size(1 << 18).map_err(failed)?;
        Ok(Packer { writer, out, solid })
    }

    /// Some whole rows more, four bytes a pixel.
    pub fn add(&mut self, rgba: &[u8]) {
        // Writing to memory cannot fail, and no more rows come than were announced.
        let written = if self.solid {
            let mut rgb = Vec::with_capacity(rgba.len() / 4 * 3);
            rgba.chunks_exact(4).for_each(|pixel| rgb.extend_from_slice(&pixel[..3]));
            self.writer.write_all(&rgb)
        } else {
            self.writer.write_all(rgba)
        };
        debug_assert!(written.is_ok(), "{written:?}");
    }

    /// The file.
    pub fn finish(self) -> Vec<u8> {
        let done = self.writer.finish();
        debug_assert!(done.is_ok(), "{done:?}");
        std::mem::take(&mut self.out.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl std::fmt::Debug for Pixels {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} x {} pixels", self.width, self.height)
    }
}
