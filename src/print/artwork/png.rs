//! PNG artwork: any kind of PNG to eight bits a channel, and to another number of pixels.

use super::{Fault, MOST_PIXELS, Picture};
use ::png::{ColorType, Decoder, Limits, Transformations};
use rayon::prelude::*;
use std::io::Cursor;

/// Reads a PNG whose header keeps to the limits.
pub fn read(bytes: &[u8]) -> Result<Picture, Fault> {
    let broken = |why: ::png::DecodingError| Fault(format!("the PNG cannot be read to its end: {why}"));
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: 4 * MOST_PIXELS });
    decoder.set_transformations(Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().map_err(broken)?;
    let (width, height) = (reader.info().width as usize, reader.info().height as usize);
    if width.saturating_mul(height) > MOST_PIXELS {
        return Err(Fault(format!(
            "the PNG has {width} by {height} pixels; at most {} million are read: make it smaller",
            MOST_PIXELS / 1_000_000
        )));
    }
    let room = reader.output_buffer_size().ok_or_else(|| Fault("the PNG says it is larger than any memory".into()))?;
    let mut raw = vec![0; room];
    let info = reader.next_frame(&mut raw).map_err(broken)?;
    raw.truncate(info.buffer_size());
    let rgba = match info.color_type {
        ColorType::Rgba => raw,
        ColorType::Rgb => raw.chunks_exact(3).flat_map(|p| [p[0], p[1], p[2], 255]).collect(),
        ColorType::GrayscaleAlpha => raw.chunks_exact(2).flat_map(|p| [p[0], p[0], p[0], p[1]]).collect(),
        ColorType::Grayscale => raw.iter().flat_map(|g| [*g, *g, *g, 255]).collect(),
        ColorType::Indexed => return Err(Fault("the PNG's palette could not be read".into())),
    };
    if rgba.len() != width * height * 4 {
        return Err(Fault("the PNG holds fewer pixels than it says".into()));
    }
    Ok(Picture { width, height, rgba })
}

/// The picture in other pixels: means where it shrinks, straight lines between where it grows; clear pixels lend no colour.
pub fn resized(picture: &Picture, width: usize, height: usize) -> Picture {
    if (width, height) == (picture.width, picture.height) {
        return picture.clone();
    }
    let columns = weights(picture.width, width);
    let rows = weights(picture.height, height);
    let mut rgba = vec![0; width * height * 4];
    rgba.par_chunks_mut(width * 4).zip(&rows).for_each(|(line, row)| {
        for (out, column) in line.chunks_exact_mut(4).zip(&columns) {
            let mut sum = [0.0f32; 4];
            for (y, wy) in row.parts() {
                for (x, wx) in column.parts() {
                    let at = (y * picture.width + x) * 4;
                    let p = &picture.rgba[at..at + 4];
                    let solid = wx * wy * f32::from(p[3]);
                    (0..3).for_each(|i| sum[i] += solid * f32::from(p[i]));
                    sum[3] += solid;
                }
            }
            if sum[3] > 0.0 {
                (0..3).for_each(|i| out[i] = (sum[i] / sum[3] + 0.5) as u8);
                out[3] = (sum[3] + 0.5).min(255.0) as u8;
            }
        }
    });
    Picture { width, height, rgba }
}

/// Which old pixels make a new one, and by how much each of the first and last.
struct Part {
    first: usize,
    shares: Vec<f32>,
}

impl Part {
    fn parts(&self) -> impl Iterator<Item = (usize, f32)> + '_ {
        self.shares.iter().enumerate().map(|(i, share)| (self.first + i, *share))
    }
}

fn weights(from: usize, to: usize) -> Vec<Part> {
    let step = from as f64 / to as f64;
    let one = |n: usize| {
        if step <= 1.0 {
            let middle = ((n as f64 + 0.5) * step - 0.5).clamp(0.0, (from - 1) as f64);
            let first = (middle as usize).min(from.saturating_sub(2));
            let part = (middle - first as f64) as f32;
            return if from == 1 {
                Part { first: 0, shares: vec![1.0] }
            } else {
                Part { first, shares: vec![1.0 - part, part] }
            };
        }
        let (start, end) = (n as f64 * step, ((n + 1) as f64 * step).min(from as f64));
        let (first, last) = (start as usize, (end.ceil() as usize).clamp(start as usize + 1, from));
        let share = |x: usize| ((end.min((x + 1) as f64) - start.max(x as f64)) / step).max(0.0) as f32;
        Part { first, shares: (first..last).map(share).collect() }
    };
    (0..to).map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32, kind: ColorType, bytes: &[u8]) -> Vec<u8> {
        let mut out = Vec::new();
        let mut encoder = ::png::Encoder::new(&mut out, width, height);
        encoder.set_color(kind);
        encoder.write_header().expect("a header").write_image_data(bytes).expect("pixels");
        out
    }

    #[test]
    fn kinds_of_png_come_to_the_same() {
        let grey = read(&png(2, 1, ColorType::Grayscale, &[10, 200])).expect("grey");
        assert_eq!(grey.rgba, [10, 10, 10, 255, 200, 200, 200, 255]);
        let rgb = read(&png(1, 1, ColorType::Rgb, &[1, 2, 3])).expect("rgb");
        assert_eq!(rgb.rgba, [1, 2, 3, 255]);
    }

    #[test]
    fn a_cut_off_and_a_boasting_file_are_refused() {
        let whole = png(64, 64, ColorType::Rgba, &[77; 64 * 64 * 4]);
        assert!(read(&whole[..whole.len() / 2]).unwrap_err().0.contains("cannot be read"));
        let mut boast = whole.clone();
        boast[16..24].copy_from_slice(&[0, 1, 0, 0, 0, 1, 0, 0]);
        // the header's sum no longer fits, or the size is refused: either is an answer in words
        assert!(read(&boast).is_err());
    }

    /// Identity: means keep the mean; a clear pixel lends no colour.
    #[test]
    fn sizes_change_and_means_stay() {
        let rgba: Vec<u8> = (0..30u8).flat_map(|i| [i * 8, 255 - i * 8, 40, 255]).collect();
        let picture = Picture { width: 6, height: 5, rgba };
        let small = resized(&picture, 2, 1);
        let mean = |p: &Picture, c: usize| {
            p.rgba.chunks(4).map(|q| f64::from(q[c])).sum::<f64>() / (p.width * p.height) as f64
        };
        assert!((mean(&small, 0) - mean(&picture, 0)).abs() < 1.0);
        let large = resized(&picture, 60, 50);
        assert!((mean(&large, 1) - mean(&picture, 1)).abs() < 1.5);
        let half = Picture { width: 2, height: 1, rgba: vec![9, 9, 9, 255, 0, 200, 0, 0] };
        assert_eq!(resized(&half, 1, 1).rgba, [9, 9, 9, 128]);
    }
}
