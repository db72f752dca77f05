//! The picture of a search: hours against fibre of the designs that pass, by the mass of their cloth, with the numbers of those that
//! no other beats. Takes what was found as it is.

use kurbo::{Circle, Rect, Shape};

use crate::draw::chart::{Axis, Chart};
use crate::draw::extent;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::text;
use crate::outlook::explore::{Design, Found};
use crate::units::show::{self, Style};
use crate::units::{AnyUnit, G_M2, Q};

/// Width of the sheet and height of the chart, in millimetres.
const WIDE: f64 = 190.0;
const HIGH: f64 = 120.0;
/// Grams in an ounce, for those who weigh in them.
const OUNCE: f64 = 28.349_523_125;

/// The picture.
pub fn sheet(found: &Found, style: Style) -> Sheet {
    let describe = format!(
        "{} designs looked through, {} pass; hours against raw fibre, darker where the cloth is heavier.",
        found.tried, found.passed
    );
    let mut sheet = Sheet::new("designs", "Designs that pass every check", &describe, WIDE, HIGH);
    if found.some.is_empty() {
        sheet.words(Type::Body, Anchor::Start, (4.0, 10.0), "No design passes every check that can fail.");
        return sheet;
    }
    let (scale, unit) = if style == Style::Inch { (1.0 / OUNCE, "raw fibre, oz") } else { (1.0, "raw fibre, g") };
    let at = |d: &Design| (d.hours, d.fibre * scale);
    let all = || found.some.iter().chain(&found.front);
    let x = Axis::of("hours", all().map(|d| d.hours), false);
    let mut chart =
        Chart::new(Rect::new(0.0, 0.0, WIDE, HIGH), x, Axis::of(unit, all().map(|d| d.fibre * scale), false));
    let thirds = thirds(found);
    for (third, fill) in FILLS.into_iter().enumerate() {
        let here = found.some.iter().filter(|d| place(&thirds, d) == third);
        chart = chart.dots(fill, here.map(at), 0.7);
    }
    chart = chart.dots(Fill::Ink, found.front.iter().map(at), 1.1);
    let plot = chart.draw(&mut sheet);
    for (number, design) in told(found, |d| plot.at(at(d).0, at(d).1)) {
        let point = plot.at(at(design).0, at(design).1);
        sheet.words(Type::Small, Anchor::End, (point.x - 1.8, point.y + 1.0), number.to_string());
    }
    let y = extent::of(&sheet.items).map_or(HIGH, |e| e.y1) + 4.0;
    key(&mut sheet, found, &thirds, (plot.area.x0, y), style);
    extent::fitted(sheet, 4.0)
}

/// Light, middling and heavy cloth.
const FILLS: [Fill; 3] = [Fill::Fibre, Fill::Yarn, Fill::Cloth];

/// Masses that part the designs in three.
fn thirds(found: &Found) -> [f64; 2] {
    let mut masses: Vec<f64> = found.some.iter().map(|d| d.mass).collect();
    masses.sort_by(f64::total_cmp);
    [masses[masses.len() / 3], masses[2 * masses.len() / 3]]
}

fn place(thirds: &[f64; 2], design: &Design) -> usize {
    thirds.iter().filter(|limit| design.mass >= **limit).count()
}

/// Numbers of the front that have room beside their dot.
fn told(found: &Found, at: impl Fn(&Design) -> kurbo::Point) -> Vec<(usize, &Design)> {
    let mut taken: Vec<kurbo::Point> = Vec::new();
    let mut out = Vec::new();
    for (number, design) in found.front.iter().enumerate() {
        let point = at(design);
        if taken.iter().all(|other| (other.x - point.x).abs() > 6.0 || (other.y - point.y).abs() > 3.2) {
            taken.push(point);
            out.push((number + 1, design));
        }
    }
    out
}

/// What the dots mean.
fn key(sheet: &mut Sheet, found: &Found, thirds: &[f64; 2], (left, mut y): (f64, f64), style: Style) {
    let mass = |value: f64| {
        let unit = AnyUnit { name: G_M2.name, scale: G_M2.scale };
        show::quantity(Q::<crate::units::AreaMass>::new(value, &G_M2).to_si(), &unit, style)
    };
    let words = [
        format!("cloth below {}", mass(thirds[0])),
        format!("{} to {}", mass(thirds[0]), mass(thirds[1])),
        format!("{} and heavier", mass(thirds[1])),
        "numbered: no other of like mass beats it in both hours and fibre".to_string(),
    ];
    for (fill, words) in FILLS.into_iter().chain([Fill::Ink]).zip(words) {
        sheet.area(fill, Some(Line::Detail), Circle::new((left + 1.4, y + 2.2), 1.4).to_path(0.01));
        y = text::paragraph(sheet, Type::Body, (left + 5.0, y), WIDE - left - 10.0, &words) + 0.6;
    }
    let says = format!(
        "{} designs looked through, {} pass.",
        show::number(found.tried as f64),
        show::number(found.passed as f64)
    );
    text::paragraph(sheet, Type::Body, (left, y + 1.0), WIDE - left, &says);
}
