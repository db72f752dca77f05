//! Which width to weave: length, area and hours of the cloth over the width, the chosen one marked. Takes the figures as they
//! were found; computes none but the units and the steps between them.

use kurbo::Rect;

use crate::draw::chart::{Axis, Chart};
use crate::draw::sheet::{Fill, Line, Sheet};
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::units::show::{self, Style};
use crate::units::{CM, INCH, M2, MM, Q, YD2};

/// One width worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Width {
    /// mm.
    pub width: f64,
    /// Cloth taken along the warp, mm.
    pub length: f64,
    /// Hours of making it, where they are known; and those on cloth just narrower, which keeps the next narrower lay.
    pub hours: Option<f64>,
    pub hours_before: Option<f64>,
}

/// What the sheet is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Widths<'a> {
    /// Narrowest first.
    pub rows: &'a [Width],
    /// Which of the rows is decided on.
    pub chosen: usize,
    /// What the widths are: "weaving width", "finished width".
    pub what: &'a str,
    pub style: Style,
}

/// Height of one chart at most, and the room between two.
const TALL: f64 = 72.0;
const BETWEEN: f64 = 4.0;

/// Curves of length, area and (where known) hours over the width, on upright paper.
pub fn sheet(widths: &Widths, paper: Paper) -> Sheet {
    let describe = format!("cloth length, area and hours over {} widths, the chosen one marked", widths.rows.len());
    let mut sheet = title::page(paper, "widths", "Which width to weave", &describe);
    let mut y = title::head(&mut sheet, &lead(widths));
    let curves = curves(widths);
    let room = sheet.height - MARGIN - FOOT - y;
    let tall = (room / curves.len() as f64 - BETWEEN).min(TALL);
    for curve in &curves {
        let frame = Rect::new(MARGIN, y, sheet.width - MARGIN, y + tall);
        draw(&mut sheet, widths, curve, frame);
        y += tall + BETWEEN;
    }
    title::foot(&mut sheet, "Each dot is a width that was laid; between two, the narrower one's lay is kept.");
    sheet
}

fn lead(widths: &Widths) -> String {
    let Some(row) = widths.rows.get(widths.chosen) else { return String::from("No width serves.") };
    let said = |mm: f64| show::of(Q::new(mm, &MM), &CM, widths.style);
    let area = show::of(Q::new(area(row), &M2), &M2, widths.style);
    format!(
        "Wider cloth is shorter, but only where pieces come to lie beside each other; between such widths it only grows the waste. \
         Chosen: a {} of {}, {} long, {area} of cloth.",
        widths.what,
        said(row.width),
        said(row.length)
    )
}

/// m².
fn area(row: &Width) -> f64 {
    row.width * row.length / 1e6
}

/// One chart's name, its curve's role, its points in the chart's units, and what lies between two of them.
struct Curve {
    name: String,
    line: Line,
    fill: Fill,
    points: Vec<(f64, f64)>,
    between: Between,
}

/// What wider cloth does while the narrower lay is kept.
enum Between {
    /// Nothing: a length.
    Keeps,
    /// Grows with the width: an area.
    Grows,
    /// Comes to these values just before each width.
    Comes(Vec<Option<f64>>),
}

fn curves(widths: &Widths) -> Vec<Curve> {
    let across = |row: &Width| in_unit(row.width, widths.style);
    let inch = widths.style == Style::Inch;
    let points = |value: &dyn Fn(&Width) -> Option<f64>| -> Vec<(f64, f64)> {
        widths.rows.iter().filter_map(|row| value(row).map(|v| (across(row), v))).collect()
    };
    let name = |what: &str, metric: &str, other: &str| format!("{what}, {}", if inch { other } else { metric });
    let square = |row: &Width| if inch { Q::new(area(row), &M2).get(&YD2) } else { area(row) };
    let mut curves = vec![
        Curve {
            name: name("length of the cloth", "cm", "in"),
            line: Line::Curve,
            fill: Fill::Curve,
            points: points(&|row| Some(in_unit(row.length, widths.style))),
            between: Between::Keeps,
        },
        Curve {
            name: name("area of the cloth", "m²", "yd²"),
            line: Line::Second,
            fill: Fill::Second,
            points: points(&|row| Some(square(row))),
            between: Between::Grows,
        },
    ];
    let hours = points(&|row| row.hours);
    if !hours.is_empty() {
        let before = widths.rows.iter().filter(|row| row.hours.is_some()).map(|row| row.hours_before).collect();
        let (line, fill, between) = (Line::Third, Fill::Ink, Between::Comes(before));
        curves.push(Curve { name: "hours to make it".into(), line, fill, points: hours, between });
    }
    curves
}

fn in_unit(mm: f64, style: Style) -> f64 {
    Q::new(mm, &MM).get(if style == Style::Inch { &INCH } else { &CM })
}

fn draw(sheet: &mut Sheet, widths: &Widths, curve: &Curve, frame: Rect) {
    let unit = if widths.style == Style::Inch { "in" } else { "cm" };
    let x = Axis::of(&format!("{}, {unit}", widths.what), curve.points.iter().map(|p| p.0), false);
    let line = joined(&curve.points, &curve.between);
    let y = Axis::of(&curve.name, line.iter().map(|p| p.1), false);
    let mut chart = Chart::new(frame, x, y).curve(curve.line, line, "");
    if let Some(row) = widths.rows.get(widths.chosen) {
        let at = in_unit(row.width, widths.style);
        chart = chart.upright(Line::Centre, at, "chosen");
        if let Some(point) = curve.points.iter().find(|p| p.0 == at) {
            chart = chart.dots(Fill::Danger, [*point], 1.7);
        }
    }
    chart.dots(curve.fill, curve.points.iter().copied(), 0.9).draw(sheet);
}

/// A curve through the points, with what happens just before each.
fn joined(points: &[(f64, f64)], between: &Between) -> Vec<(f64, f64)> {
    let before = |at: usize| {
        let ((w0, v0), (w1, _)) = (points[at], points[at + 1]);
        match between {
            Between::Keeps => Some((w1, v0)),
            Between::Grows => Some((w1, v0 * w1 / w0)),
            Between::Comes(values) => values.get(at + 1).copied().flatten().map(|value| (w1, value)),
        }
    };
    let corners = (0..points.len().saturating_sub(1)).flat_map(|at| [Some(points[at]), before(at)]);
    corners.flatten().chain(points.last().copied()).collect()
}
