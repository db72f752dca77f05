//! A sheet as the tree that the PDF and PNG exporters draw: the very SVG of [`super::svg`], read back. Also the only way in
//! which an SVG of any kind is read here: with our own two faces, and with both image resolvers replaced, since the default
//! ones open files that an SVG names.

use crate::draw::refused::{Refused, check};
use crate::draw::sheet::Sheet;
use crate::draw::style::Look;
use crate::draw::{svg, text};

/// Most pixels of a picture that stands in an SVG.
const MOST_PICTURE: u64 = 64_000_000;

/// Options under which no file is ever opened: pictures only as PNG within the SVG itself and of bounded size, no fonts but
/// ours.
pub fn options() -> usvg::Options<'static> {
    let resolver = usvg::ImageHrefResolver {
        resolve_data: Box::new(|mime, data, _| {
            let wanted = mime == "image/png" && small_png(&data);
            wanted.then_some(usvg::ImageKind::PNG(data))
        }),
        resolve_string: Box::new(|_, _| None),
    };
    usvg::Options {
        image_href_resolver: resolver,
        fontdb: text::store(),
        font_family: "DejaVu Sans".to_string(),
        ..usvg::Options::default()
    }
}

/// Whether these bytes start as a PNG whose picture is not larger than we draw.
fn small_png(data: &[u8]) -> bool {
    let side = |at: usize| data.get(at..at + 4).and_then(|b| b.try_into().ok()).map(u32::from_be_bytes);
    let signed = data.starts_with(b"\x89PNG\r\n\x1a\n");
    match (signed, side(16), side(20)) {
        (true, Some(w), Some(h)) => u64::from(w) * u64::from(h) <= MOST_PICTURE,
        _ => false,
    }
}

/// The sheet as a tree; one unit of it is `25.4 / 96` mm, as SVG has it.
///
/// # Errors
/// What [`check`] refuses.
pub fn of(sheet: &Sheet, look: Look) -> Result<usvg::Tree, Refused> {
    check(sheet)?;
    let svg = svg::file_in(sheet, look);
    usvg::Tree::from_str(&svg, &options()).map_err(|e| Refused::Writer(e.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture named by a path, even one that exists, is left out; so is a picture that is no PNG.
    #[test]
    fn no_file_is_opened() {
        let here = concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml");
        for href in [here, "file:///etc/hostname", "data:image/svg+xml;base64,PHN2Zy8+", "data:image/png;base64,AAAA"] {
            let svg = format!(
                "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><image width='9' height='9' href='{href}'/></svg>"
            );
            let tree = usvg::Tree::from_str(&svg, &options()).expect("sound");
            assert!(tree.root().children().is_empty(), "{href}");
        }
    }
}
