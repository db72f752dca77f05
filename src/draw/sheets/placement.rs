//! Where the print goes: on its piece against neck, centre, seams and grain, and a paper template at full size to lay on the cloth. Takes
//! the piece as it is drafted; millimetres of the piece, y down.

use crate::draw::caution::{self, Hazard};
use crate::draw::dimension;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Point, Rect, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::garment::{MarkKind, Piece};
use crate::units::show::{self, Style};
use crate::units::{CM, Q};
use kurbo::{Affine, BezPath, ParamCurve, Vec2};

/// A print on a piece.
pub struct Placed<'a> {
    pub piece: &'a Piece,
    /// Where the print lies, mm of the piece, at the size it is printed.
    pub area: Rect,
    /// From the edge above it to its top, mm.
    pub below: f64,
    /// Least distance to a seam.
    pub clear: f64,
    /// Outline of each ink, mm from the print's top left corner, at the size it is printed, and its colour.
    pub inks: &'a [(BezPath, [u8; 3])],
    /// sRGB of the cloth.
    pub cloth: [u8; 3],
    /// How the size as printed stands to the size as worn.
    pub sized: &'a str,
    pub style: Style,
}

fn rgb([r, g, b]: [u8; 3]) -> Fill {
    Fill::Rgb(r, g, b)
}

fn cm(mm: f64, style: Style) -> String {
    show::of(Q::new(mm / 10.0, &CM), &CM, style)
}

/// Left and right edge of a closed path at a height; none where it does not reach.
fn across(path: &BezPath, y: f64) -> Option<(f64, f64)> {
    let mut found: Option<(f64, f64)> = None;
    let mut last = None;
    let mut meet = |a: Point, b: Point| {
        if (a.y <= y) != (b.y <= y) {
            let x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
            found = Some(found.map_or((x, x), |(l, r)| (f64::min(l, x), f64::max(r, x))));
        }
    };
    for segment in path.segments() {
        let mut from = segment.start();
        for i in 1..=24 {
            let to = segment.eval(f64::from(i) / 24.0);
            meet(from, to);
            from = to;
        }
        last = Some(from);
    }
    last.and(found)
}

/// The piece with the print, to scale on a page.
pub fn on_piece(placed: &Placed) -> Sheet {
    let (piece, style) = (placed.piece, placed.style);
    let describe = format!("The print on the {}: how far from neck, centre, seams and grain.", piece.name);
    let mut sheet = title::page(Paper::A4, "placement", &format!("Where the print goes: {}", piece.name), &describe);
    let lead = format!(
        "{} Print the piece flat, before it is sewn, the warp straight under the print's upright centre line.",
        placed.sized
    );
    let top = title::head(&mut sheet, &lead) + 8.0;
    let bounds = piece.bounds();
    let room = (sheet.width - 2.0 * MARGIN - 44.0, sheet.height - top - FOOT - MARGIN - 52.0);
    let fits = (room.0 / bounds.width()).min(room.1 / bounds.height());
    let scale = [1.0, 0.5, 0.4, 0.333_333, 0.25, 0.2, 0.166_667, 0.125, 0.1, 0.05]
        .into_iter()
        .find(|s| *s <= fits)
        .unwrap_or(0.025);
    sheet.scale = Some(scale);
    let left = (sheet.width - bounds.width() * scale) / 2.0;
    let map = Affine::translate((left, top)) * Affine::scale(scale) * Affine::translate(-bounds.origin().to_vec2());
    sheet.group("piece", Some(&piece.name), map, |g| {
        g.area(rgb(placed.cloth), Some(Line::Cut), piece.cut.clone());
        g.path(Line::Seam, piece.seam_line());
        for mark in piece.marks.iter().filter(|m| m.kind == MarkKind::Centre) {
            g.path(Line::Centre, mark.path.clone());
        }
        for (outline, colour) in placed.inks {
            g.area(rgb(*colour), None, Affine::translate(placed.area.origin().to_vec2()) * outline.clone());
        }
        g.rect(Line::Detail, placed.area);
    });
    dimension::grain(&mut sheet, map * piece.grain.0, map * piece.grain.1, "warp");
    measures(&mut sheet, placed, map);
    let words = format!(
        "{} to the nearest seam or edge. Measure from the seam line (dashed), not from the cut edge.",
        cm(placed.clear, style)
    );
    let y = top + bounds.height() * scale + 9.0;
    let wide = sheet.width - 2.0 * MARGIN;
    text::paragraph(&mut sheet, Type::Small, (MARGIN, y), wide, &words);
    caution::draw(&mut sheet, (MARGIN, y + 8.0), wide, &[Hazard::Ink]);
    title::foot(&mut sheet, "The template for laying it is on the next sheet, at full size.");
    sheet
}

/// Distances on the sheet, each in words of the real size.
fn measures(sheet: &mut Sheet, placed: &Placed, map: Affine) {
    let (area, style) = (placed.area, placed.style);
    let on = |x: f64, y: f64| map * Point::new(x, y);
    let edge = on(area.x1, area.y0).x;
    let seam = placed.piece.seam_line();
    let bounds = placed.piece.bounds();
    let right = on(bounds.x1, bounds.y0).x + 9.0;
    let head = area.y0 - placed.below;
    let middle = area.center();
    dimension::vertical(
        sheet,
        on(middle.x, head),
        on(area.x1, area.y0),
        right.max(edge + 6.0),
        &cm(placed.below, style),
    );
    dimension::vertical(
        sheet,
        on(area.x1, area.y0),
        on(area.x1, area.y1),
        right.max(edge + 6.0),
        &cm(area.height(), style),
    );
    let low = on(0.0, bounds.y1).y;
    dimension::horizontal(
        sheet,
        on(area.x0, area.y1),
        on(area.x1, area.y1),
        low.min(on(0.0, area.y1).y + 12.0),
        &cm(area.width(), style),
    );
    if let Some((l, r)) = across(&seam, middle.y) {
        let y = on(0.0, middle.y).y;
        dimension::horizontal(sheet, on(l, middle.y), on(area.x0, middle.y), y, &cm(area.x0 - l, style));
        dimension::horizontal(sheet, on(area.x1, middle.y), on(r, middle.y), y, &cm(r - area.x1, style));
    }
    if middle.x.abs() > 0.5 {
        let y = on(0.0, area.y0).y - 4.0;
        dimension::horizontal(sheet, on(0.0, area.y0), on(middle.x, area.y0), y, &cm(middle.x.abs(), style));
    }
}

/// Paper round the print on the template, mm.
const PAPER: f64 = 15.0;

/// The template at full size: cut out, lay its top edge to the neck, mark the corners and the centre through it.
pub fn template(placed: &Placed) -> Sheet {
    let style = placed.style;
    let describe = "Paper template at full size: the print's frame with its centre lines and the way to the neck.";
    let reach = placed.below.clamp(0.0, 400.0);
    let (w, h) = (placed.area.width(), placed.area.height());
    let width = (w + 2.0 * PAPER).max(150.0) + 2.0 * MARGIN;
    let mut sheet = Sheet::new("placement-template", "Template for placing the print", describe, width, 100.0);
    sheet.scale = Some(1.0);
    let lead = "Cut along the thick line. Lay the centre line on the piece's centre line and the top edge on the middle of the neck's seam \
                line. Cut the four corners out, chalk through them, and lay the film, stencil or block on the marks.";
    let top = title::head(&mut sheet, lead) + 4.0;
    let frame = Rect::from_origin_size(((width - w) / 2.0, top + reach), (w, h));
    let paper = Rect::new(frame.x0 - PAPER, top, frame.x1 + PAPER, frame.y1 + PAPER);
    sheet.rect(Line::Cut, paper);
    for (outline, _) in placed.inks {
        sheet.area(Fill::Loss, None, Affine::translate(frame.origin().to_vec2()) * outline.clone());
    }
    sheet.rect(Line::Seam, frame);
    let middle = frame.center();
    sheet.line(Line::Centre, (middle.x, paper.y0), (middle.x, paper.y1));
    sheet.line(Line::Centre, (paper.x0, middle.y), (paper.x1, middle.y));
    // where the piece's own centre line runs, when the print stands beside it
    let off = placed.area.center().x;
    let centre = middle.x - off;
    if off.abs() > 0.5 {
        sheet.line(Line::Fold, (centre, paper.y0), (centre, paper.y1));
        sheet.words(Type::Small, Anchor::Middle, (centre, paper.y0 + 8.0), "centre of the piece");
    }
    for (x, y) in [(frame.x0, frame.y0), (frame.x1, frame.y0), (frame.x0, frame.y1), (frame.x1, frame.y1)] {
        corner(
            &mut sheet,
            Point::new(x, y),
            Vec2::new(if x > middle.x { -1.0 } else { 1.0 }, if y > middle.y { -1.0 } else { 1.0 }),
        );
    }
    sheet.words(Type::Label, Anchor::Start, (middle.x + 3.0, paper.y0 + 4.5), "this edge to the neck");
    if reach > 12.0 {
        dimension::vertical(
            &mut sheet,
            (frame.x0, paper.y0),
            (frame.x0, frame.y0),
            frame.x0 + 12.0,
            &cm(placed.below, style),
        );
        dimension::grain(&mut sheet, (frame.x1 - 10.0, frame.y0 - 2.0), (frame.x1 - 10.0, paper.y0 + 2.0), "warp");
    }
    let words =
        format!("{} by {}: measure the frame; if it is wrong, print again at 100 %.", cm(w, style), cm(h, style));
    let y = text::paragraph(&mut sheet, Type::Small, (MARGIN, paper.y1 + 3.0), width - 2.0 * MARGIN, &words);
    sheet.height = y + FOOT + MARGIN + 2.0;
    title::foot(&mut sheet, "Print at 100 %, never fitted to the page.");
    sheet
}

/// A corner to cut out and chalk through.
fn corner(sheet: &mut Sheet, at: Point, inward: Vec2) {
    let points = [at, at + Vec2::new(7.0 * inward.x, 0.0), at + Vec2::new(0.0, 7.0 * inward.y)];
    sheet.polygon(Fill::Paper, Some(Line::Cut), points);
}
