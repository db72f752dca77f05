//! The test strip: lines, gaps and dots about the limits that are foreseen, to print on a scrap of this cloth with this screen. What comes
//! out whole is entered in the log and replaces the rule of thumb. Black only: the strip is its own film.

use crate::chain::prints::Prints;
use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Point, Rect, Shape, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::print::Method;
use crate::units::show::{self, Style};
use crate::units::{MM, PER_CM, Q};

use super::film::mesh_words;

/// Widths tried, over the limit foreseen.
const TRIED: [f64; 8] = [0.4, 0.55, 0.7, 0.85, 1.0, 1.25, 1.6, 2.0];
/// The one foreseen.
const LIMIT: usize = 4;
/// As black as a film must be, whatever the sheet's own ink is.
const BLACK: Fill = Fill::Rgb(0, 0, 0);
/// Length of a line, mm.
const LONG: f64 = 24.0;

/// The sheet.
pub fn sheet(prints: &Prints, style: Style) -> Sheet {
    let describe = "Lines, gaps and dots about the finest that this cloth is foreseen to hold, each with its width.";
    let mut sheet = title::page(Paper::A4, "teststrip", "Test strip for this cloth", describe);
    sheet.scale = Some(1.0);
    let lead = "Print this at full size on a scrap of the finished cloth, with the screen, ink and strokes you will use. Dry, fix and wash \
                it, then find in each row the finest that is whole.";
    let top = title::head(&mut sheet, lead) + 2.0;
    let mut y = top + 3.0;
    y = lines(&mut sheet, prints, y, style);
    y = gaps(&mut sheet, prints, y + 3.0, style);
    y = dots(&mut sheet, prints, y + 3.0, style);
    let strip = Rect::new(MARGIN, top, sheet.width - MARGIN, y + 2.0);
    sheet.rect(Line::Detail, strip);
    y = strip.y1 + 5.0;
    y = enter(&mut sheet, prints, y, style);
    let wide = sheet.width - 2.0 * MARGIN;
    let hazards: &[Hazard] =
        if prints.method == Method::Block { &[Hazard::Blades, Hazard::Ink] } else { &[Hazard::Ink] };
    y = caution::draw(&mut sheet, (MARGIN, y + 3.0), wide, hazards);
    sheet.height = sheet.height.max(y + FOOT + MARGIN + 2.0);
    title::foot(&mut sheet, "Print at 100 %. The widths beside the marks are what prints, in mm.");
    sheet
}

/// Where the nth of a row stands.
fn column(sheet: &Sheet, n: usize) -> f64 {
    let wide = sheet.width - 2.0 * MARGIN - 30.0;
    MARGIN + 30.0 + (n as f64 + 0.5) * wide / TRIED.len() as f64
}

fn width_words(width: f64) -> String {
    format!("{width:.2}")
}

/// The name of a row at its left, in a few lines.
fn row_name(sheet: &mut Sheet, y: f64, name: &str, says: &str) {
    sheet.words(Type::Label, Anchor::Start, (MARGIN + 2.0, y + 3.0), name);
    text::paragraph(sheet, Type::Note, (MARGIN + 2.0, y + 4.6), 26.0, says);
}

/// Labels under a row; the foreseen limit has a mark.
fn labels(sheet: &mut Sheet, y: f64, limit: f64) {
    for (n, share) in TRIED.iter().enumerate() {
        let x = column(sheet, n);
        let kind = if n == LIMIT { Type::Label } else { Type::Small };
        sheet.words(kind, Anchor::Middle, (x, y + 3.4), width_words(limit * share));
        if n == LIMIT {
            sheet.words(Type::Note, Anchor::Middle, (x, y + 6.6), "foreseen");
        }
    }
}

/// Lines of ink: up the warp, across it, and slanting, three of each width.
fn lines(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let says = format!(
        "along the warp, along the weft and slanting. Foreseen: {}",
        show::of(Q::new(prints.line, &MM), &MM, style)
    );
    row_name(sheet, y, "lines", &says);
    for (n, share) in TRIED.iter().enumerate() {
        let (x, w) = (column(sheet, n), prints.line * share);
        let up = Rect::new(x - 7.0 - w / 2.0, y, x - 7.0 + w / 2.0, y + LONG);
        sheet.area(BLACK, None, up.to_path(0.01));
        let across = Rect::new(x - 3.5, y + 3.0 - w / 2.0, x + 8.0, y + 3.0 + w / 2.0);
        sheet.area(BLACK, None, across.to_path(0.01));
        let (from, to) = (Point::new(x - 2.5, y + LONG), Point::new(x + 7.5, y + 9.0));
        let along = (to - from) / (to - from).hypot();
        let off = kurbo::Vec2::new(-along.y, along.x) * (w / 2.0);
        sheet.polygon(BLACK, None, [from + off, to + off, to - off, from - off]);
    }
    labels(sheet, y + LONG, prints.line);
    y + LONG + 8.0
}

/// Gaps in a block of ink.
fn gaps(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let says = format!("bare lines in full ink. Foreseen: {}", show::of(Q::new(prints.gap, &MM), &MM, style));
    row_name(sheet, y, "gaps", &says);
    for (n, share) in TRIED.iter().enumerate() {
        let (x, w) = (column(sheet, n), prints.gap * share);
        let (left, right) = (x - 8.5, x + 8.5);
        // a bar on each side of the upright gap; a lying gap in the right one
        sheet.area(BLACK, None, Rect::new(left, y, x - 2.0 - w / 2.0, y + LONG).to_path(0.01));
        for (from, to) in [(y, y + LONG / 2.0 - w / 2.0), (y + LONG / 2.0 + w / 2.0, y + LONG)] {
            sheet.area(BLACK, None, Rect::new(x - 2.0 + w / 2.0, from, right, to).to_path(0.01));
        }
    }
    labels(sheet, y + LONG, prints.gap);
    y + LONG + 8.0
}

/// Round spots, a few of each size.
fn dots(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let says = format!("round spots. Foreseen: {}", show::of(Q::new(prints.dot, &MM), &MM, style));
    row_name(sheet, y, "dots", &says);
    for (n, share) in TRIED.iter().enumerate() {
        let (x, d) = (column(sheet, n), prints.dot * share);
        let apart = (2.2 * d).clamp(2.0, 8.0);
        for row in 0..4 {
            for column in 0..3 {
                let place = (x + (f64::from(column) - 1.0) * apart, y + 3.0 + f64::from(row) * apart);
                if place.1 + d / 2.0 <= y + 22.0 && (place.0 - x).abs() + d / 2.0 <= 9.5 {
                    sheet.spot(BLACK, place, d / 2.0);
                }
            }
        }
    }
    labels(sheet, y + 22.0, prints.dot);
    y + 30.0
}

/// Where the result is written, and how it is entered.
fn enter(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let blank = "............................";
    let mut table = Table::new(vec![
        Column::new("finest that came out whole, after washing", 92.0, Align::Start),
        Column::new("foreseen", 36.0, Align::Start),
        Column::new("found", 62.0, Align::Start),
    ]);
    let mm = |v: f64| show::of(Q::new(v, &MM), &MM, style);
    table.row(["line (positive_line)", &mm(prints.line), blank]);
    table.row(["gap (negative_line)", &mm(prints.gap), blank]);
    table.row(["dot (dot)", &mm(prints.dot), blank]);
    let mesh = prints.mesh.map(|mesh| show::of(Q::new(mesh.count, &PER_CM), &PER_CM, Style::Metric));
    table.row(["strokes of the squeegee (strokes)", &mesh_words(prints.mesh, style), blank]);
    let low = table.draw(sheet, (MARGIN, y)) + 2.0;
    let example = |v: f64| format!("\"{v:.2} mm\"");
    let words = format!(
        "Enter it: clothwright log PLAN add strip mesh=\"{}\" positive_line={} negative_line={} dot={}. The plan then takes your cloth's \
         limits instead of the rule of thumb: plan --with-log.",
        mesh.unwrap_or_else(|| "43 /cm".into()).replace(['\u{202f}', '\u{a0}'], " "),
        example(prints.line),
        example(prints.gap),
        example(prints.dot)
    );
    text::paragraph(sheet, Type::Small, (MARGIN, low), sheet.width - 2.0 * MARGIN, &words)
}
