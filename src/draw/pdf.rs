//! Sheets as PDF at true scale: the SVG of the sheet put on a page of exactly its size, words as words, faces subset. No date
//! and no random name goes in, so the same sheet gives the same bytes. Tiling onto home paper is [`super::tiles`].

use krilla::Document;
use krilla::destination::XyzDestination;
use krilla::geom::{Point, Size};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::surface::Surface;
use krilla_svg::{SurfaceExt, SvgSettings};

use crate::draw::refused::{LONGEST_PAGE, MOST_PAGES, Refused, side_check};
use crate::draw::sheet::Sheet;
use crate::draw::style::Look;
use crate::draw::tree;

/// Millimetres as PDF points.
pub(in crate::draw) fn points(mm: f64) -> f32 {
    (mm * 72.0 / 25.4) as f32
}

/// One page of the size of the sheet.
///
/// # Errors
/// What [`pages`] refuses.
pub fn single(sheet: &Sheet) -> Result<Vec<u8>, Refused> {
    pages(std::slice::from_ref(sheet))
}

/// A page for each sheet, each of its sheet's size; the first sheet names the document.
///
/// # Errors
/// No sheet or too many, a side longer than a PDF page may be, what [`super::refused::check`] refuses.
pub fn pages(sheets: &[Sheet]) -> Result<Vec<u8>, Refused> {
    let Some(first) = sheets.first() else { return Err(Refused::Pages(0)) };
    if sheets.len() > MOST_PAGES {
        return Err(Refused::Pages(sheets.len()));
    }
    let mut document = Document::new();
    document.set_metadata(metadata(first));
    for sheet in sheets {
        side_check(sheet, LONGEST_PAGE)?;
        let tree = tree::of(sheet, Look::Print)?;
        let mut page = document.start_page_with(page_settings(sheet)?);
        let mut surface = page.surface();
        draw_tree(&mut surface, &tree, sheet)?;
        surface.finish();
        page.finish();
    }
    if sheets.len() > 1 {
        document.set_outline(outline(sheets));
    }
    document.finish().map_err(|e| Refused::Writer(format!("{e:?}")))
}

/// The contents beside the pages: each sheet by its title.
fn outline(sheets: &[Sheet]) -> Outline {
    let mut outline = Outline::new();
    for (page, sheet) in sheets.iter().enumerate() {
        let top = XyzDestination::new(page, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(sheet.title.clone(), top));
    }
    outline
}

/// Title, description and program; no dates.
pub(in crate::draw) fn metadata(sheet: &Sheet) -> Metadata {
    Metadata::new()
        .title(sheet.title.clone())
        .description(sheet.describe.clone())
        .creator("Clothwright".to_string())
        .language("en".to_string())
}

/// A page of the sheet's size.
pub(in crate::draw) fn page_settings(sheet: &Sheet) -> Result<PageSettings, Refused> {
    let (width, height) = (sheet.width, sheet.height);
    let refused = Refused::Size { width, height, most: LONGEST_PAGE };
    PageSettings::from_wh(points(width), points(height)).ok_or(refused)
}

/// Draws a sheet's tree with its top left corner at the origin, one millimetre as one millimetre.
pub(in crate::draw) fn draw_tree(surface: &mut Surface, tree: &usvg::Tree, sheet: &Sheet) -> Result<(), Refused> {
    let size = Size::from_wh(points(sheet.width), points(sheet.height));
    let drawn = size.and_then(|size| surface.draw_svg(tree, size, SvgSettings::default()));
    drawn.ok_or_else(|| Refused::Writer("the page could not be drawn".to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::{Anchor, Draw, Line, Type};

    fn sheet(width: f64) -> Sheet {
        let mut sheet = Sheet::new("s", "A sheet", "Says what it is.", width, 100.0);
        sheet.line(Line::Cut, (10.0, 10.0), (60.0, 10.0));
        sheet.words(Type::Body, Anchor::Start, (10.0, 30.0), "cut here");
        sheet
    }

    #[test]
    fn same_bytes_and_clear_refusals() {
        let one = single(&sheet(200.0)).expect("drawn");
        assert!(one.starts_with(b"%PDF-") && one == single(&sheet(200.0)).expect("drawn"));
        assert_eq!(pages(&[]), Err(Refused::Pages(0)));
        assert!(matches!(single(&sheet(6000.0)), Err(Refused::Size { .. })));
        assert!(matches!(pages(&vec![sheet(10.0); MOST_PAGES + 1]), Err(Refused::Pages(_))));
    }
}
