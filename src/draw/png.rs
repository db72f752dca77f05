//! Sheets as PNG, for previews, tests and messages: the SVG drawn by resvg at a number of dots an inch, with its physical size
//! in the file (`pHYs`), so that it prints true to scale as well.

use resvg::tiny_skia;

use crate::draw::refused::{MOST_PIXELS, Refused};
use crate::draw::sheet::Sheet;
use crate::draw::style::Look;
use crate::draw::tree;

/// The sheet at `dots` an inch (36 to 1200) on that ground; [`Look::Print`] is drawn on white.
///
/// # Errors
/// A sheet that [`super::refused::check`] refuses, dots out of range, more than [`MOST_PIXELS`].
pub fn bytes(sheet: &Sheet, dots: f64, look: Look) -> Result<Vec<u8>, Refused> {
    let map = pixels(sheet, dots, look)?;
    encode(&map, dots)
}

fn pixels(sheet: &Sheet, dots: f64, look: Look) -> Result<tiny_skia::Pixmap, Refused> {
    if !(36.0..=1200.0).contains(&dots) {
        return Err(Refused::Setting { what: "dots an inch", given: dots, accepted: "36 to 1200" });
    }
    let (width, height) = ((sheet.width / 25.4 * dots).round(), (sheet.height / 25.4 * dots).round());
    if width * height > MOST_PIXELS {
        return Err(Refused::Pixels { width, height });
    }
    let tree = tree::of(sheet, look)?;
    let none = || Refused::Pixels { width, height };
    let mut map = tiny_skia::Pixmap::new(width.max(1.0) as u32, height.max(1.0) as u32).ok_or_else(none)?;
    map.fill(tiny_skia::Color::WHITE);
    let scale = (dots / 96.0) as f32;
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut map.as_mut());
    Ok(map)
}

/// The picture without its alpha, which is 1 everywhere on an opaque ground.
fn encode(map: &tiny_skia::Pixmap, dots: f64) -> Result<Vec<u8>, Refused> {
    let failed = |e: png::EncodingError| Refused::Writer(e.to_string());
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, map.width(), map.height());
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    let per_metre = (dots / 0.0254).round() as u32;
    let unit = png::Unit::Meter;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit }));
    let mut writer = encoder.write_header().map_err(failed)?;
    let colours: Vec<u8> = map.pixels().iter().flat_map(|p| [p.red(), p.green(), p.blue()]).collect();
    writer.write_image_data(&colours).map_err(failed)?;
    writer.finish().map_err(failed)?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::{Draw, Fill, Rect, Shape};

    #[test]
    fn a_square_has_its_size_and_the_file_its_scale() {
        let mut sheet = Sheet::new("s", "S", "", 50.8, 25.4);
        sheet.area(Fill::Ink, None, Rect::new(5.0, 5.0, 15.0, 15.0).to_path(0.1));
        let file = bytes(&sheet, 254.0, Look::Light).expect("drawn");
        assert_eq!(file, bytes(&sheet, 254.0, Look::Light).expect("drawn"), "same bytes");
        let decoder = png::Decoder::new(std::io::Cursor::new(&file));
        let mut reader = decoder.read_info().expect("a PNG");
        let info = reader.info();
        assert_eq!((info.width, info.height), (508, 254));
        assert_eq!(info.pixel_dims.map(|d| d.xppu), Some(10_000));
        let mut pixels = vec![0; reader.output_buffer_size().expect("bounded")];
        reader.next_frame(&mut pixels).expect("a frame");
        let dark = pixels.chunks(3).filter(|p| p[0] < 100).count();
        assert!((dark as i64 - 100 * 100).abs() < 250, "{dark}");
    }

    #[test]
    fn too_many_pixels_are_refused() {
        let sheet = Sheet::new("s", "S", "", 2000.0, 2000.0);
        assert!(matches!(bytes(&sheet, 300.0, Look::Light), Err(Refused::Pixels { .. })));
        assert!(matches!(bytes(&sheet, f64::NAN, Look::Light), Err(Refused::Setting { .. })));
        let endless = Sheet::new("s", "S", "", f64::INFINITY, 20.0);
        assert!(bytes(&endless, 96.0, Look::Light).is_err());
    }
}
