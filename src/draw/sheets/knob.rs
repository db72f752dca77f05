//! Where to set the spinner's knob: the table, the curve, and what stands in the way.

use kurbo::Rect;

use crate::draw::caution::{self, Hazard};
use crate::draw::chart::{Axis, Chart};
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::drive::{Margin, Point, Rig, knob_table};
use crate::machine::pulley::Choice;
use crate::units::ruler::Ruler;
use crate::units::{AMP, M_MIN, MM, PER_IN, PER_M, PerLength, Q, RPM, Rotation, Speed, WATT, YD_H};

/// A twist asked for: a name, the twist, and the flyer's speed for it at the pace.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    pub name: String,
    pub twist: Q<PerLength>,
    pub flyer: Q<Rotation>,
}

/// The sheet: `work` the settings wanted, `choices` the pulleys tried (may be empty).
pub fn sheet(
    rig: &Rig,
    pace: Q<Speed>,
    work: &[Setting],
    margins: &[Margin],
    choices: &[Choice],
    ruler: Ruler,
) -> Sheet {
    let describe =
        "Flyer speed, current and heat at each place of the knob, as a table and as a curve, with the settings wanted.";
    let mut sheet = title::page(Paper::A4, "knob", "Where to set the knob", describe);
    let lead = format!(
        "At {:.1} {} of yarn a minute, counted over draw and wind-on. Bobbin full: the heaviest case. Scale the knob from 0 to 100.",
        ruler.of(pace.get(&M_MIN), pace.get(&YD_H) / 60.0),
        ruler.of("m", "yd")
    );
    let mut y = title::head(&mut sheet, &lead);
    y = settings(&mut sheet, y, rig, work, ruler);
    y = curve(&mut sheet, y + 4.0, rig, work);
    let beside = knobs(&mut sheet, y + 5.0, rig, pace, ruler);
    let right = (MARGIN + 118.0, y + 5.0);
    let below = held(&mut sheet, right, margins);
    let room = sheet.width - MARGIN - right.0;
    caution::draw(&mut sheet, (right.0, below + 5.0), room, &[Hazard::Current]);
    pulleys(&mut sheet, beside.max(below) + 6.0, choices, ruler);
    title::foot(&mut sheet, "Measured speeds replace this curve: mark the knob with what a tachometer says.");
    sheet
}

fn settings(sheet: &mut Sheet, y: f64, rig: &Rig, work: &[Setting], ruler: Ruler) -> f64 {
    let mut table = Table::new(vec![
        Column::new("yarn", 44.0, Align::Start),
        Column::new(&format!("twist, {}", turns(ruler)), 36.0, Align::Point),
        Column::new("flyer, rpm", 28.0, Align::Point),
        Column::new("knob", 24.0, Align::Point),
        Column::new("current, A", 26.0, Align::Point),
        Column::new("", 32.0, Align::Start),
    ]);
    for w in work {
        let knob = rig.knob_for(w.flyer);
        let says = match knob {
            k if k > rig.knob_limit() => "out of reach",
            k if rig.starting_knob().is_none_or(|s| s > k) => "start it by hand or higher",
            _ => "",
        };
        let amps = rig.at(knob).map_or("–".to_string(), |p| format!("{:.2}", p.current.get(&AMP)));
        table.row([
            w.name.clone(),
            twist(w.twist, ruler),
            format!("{:.0}", w.flyer.get(&RPM)),
            format!("{:.0}", 100.0 * knob),
            amps,
            says.to_string(),
        ]);
    }
    table.draw(sheet, (MARGIN, y))
}

fn curve(sheet: &mut Sheet, y: f64, rig: &Rig, work: &[Setting]) -> f64 {
    let points = knob_table(rig, 100);
    let frame = Rect::new(MARGIN, y, sheet.width - MARGIN, y + 78.0);
    let top = points.iter().map(|p| p.spindle.get(&RPM)).fold(100.0, f64::max) * 1.12;
    let mut chart = Chart::new(frame, Axis::exactly("Knob", 0.0, 100.0), Axis::over("Flyer, rpm", 0.0, top)).curve(
        Line::Curve,
        points.iter().map(|p| (100.0 * p.knob, p.spindle.get(&RPM))),
        "bobbin full",
    );
    let free = Rig { brake: Q::si(0.0), ..*rig };
    chart = chart.curve(
        Line::Second,
        knob_table(&free, 100).iter().map(|p| (100.0 * p.knob, p.spindle.get(&RPM))),
        "brake off",
    );
    if rig.knob_limit() < 0.999 {
        chart = chart.upright(Line::Danger, 100.0 * rig.knob_limit(), "never beyond");
    }
    if let Some(start) = rig.starting_knob() {
        chart = chart.upright(Line::Grain, 100.0 * start, "starts full");
    }
    let spots: Vec<(f64, f64)> = work.iter().map(|w| (100.0 * rig.knob_for(w.flyer), w.flyer.get(&RPM))).collect();
    chart.dots(Fill::Curve, spots, 1.1).draw(sheet);
    frame.y1
}

/// What twist is counted in.
fn turns(ruler: Ruler) -> &'static str {
    ruler.of("turns a metre", "turns an inch")
}

fn twist(twist: Q<PerLength>, ruler: Ruler) -> String {
    ruler.of(format!("{:.0}", twist.get(&PER_M)), format!("{:.1}", twist.get(&PER_IN)))
}

fn knobs(sheet: &mut Sheet, y: f64, rig: &Rig, pace: Q<Speed>, ruler: Ruler) -> f64 {
    sheet.words(Type::Strong, Anchor::Start, (MARGIN, y), "The knob's scale");
    let mut table = Table::new(vec![
        Column::new("knob", 13.0, Align::Point),
        Column::new("flyer, rpm", 20.0, Align::Point),
        Column::new("motor, rpm", 20.0, Align::Point),
        Column::new("winding, A", 19.0, Align::Point),
        Column::new("heat, W", 16.0, Align::Point),
        Column::new(turns(ruler), 24.0, Align::Point),
    ]);
    for p in knob_table(rig, 20) {
        table.row(cells(&p, pace, ruler));
    }
    table.draw(sheet, (MARGIN, y + 2.0))
}

fn cells(p: &Point, pace: Q<Speed>, ruler: Ruler) -> Vec<String> {
    let mark = if p.over_voltage {
        "  too much"
    } else if p.too_hot {
        "  hot"
    } else {
        ""
    };
    vec![
        format!("{:.0}", 100.0 * p.knob),
        format!("{:.0}", p.spindle.get(&RPM)),
        format!("{:.0}", p.motor.get(&RPM)),
        format!("{:.2}", p.current.get(&AMP)),
        format!("{:.1}", p.heat.get(&WATT)),
        format!("{}{mark}", twist(Q::new(p.spindle.get(&RPM) / pace.get(&M_MIN), &PER_M), ruler)),
    ]
}

fn held(sheet: &mut Sheet, at: (f64, f64), margins: &[Margin]) -> f64 {
    sheet.words(Type::Strong, Anchor::Start, at, "What stands in the way");
    let mut table = Table::new(vec![
        Column::new("", 24.0, Align::Start),
        Column::new("is", 13.0, Align::Point),
        Column::new("", 14.0, Align::Start),
        Column::new("limit", 11.0, Align::Point),
        Column::new("", 10.0, Align::Start),
    ]);
    for m in margins {
        let digits = if m.limit.abs() < 10.0 { 2 } else { 0 };
        table.row([
            m.what.to_string(),
            format!("{:.digits$}", m.value),
            if m.at_most { "at most" } else { "at least" }.to_string(),
            format!("{:.digits$}", m.limit),
            if m.passes { m.unit.to_string() } else { format!("{} !", m.unit) },
        ]);
    }
    table.draw(sheet, (at.0, at.1 + 2.0))
}

fn pulleys(sheet: &mut Sheet, y: f64, choices: &[Choice], ruler: Ruler) {
    if choices.is_empty() || y > sheet.height - MARGIN - title::FOOT - 24.0 {
        return;
    }
    sheet.words(Type::Strong, Anchor::Start, (MARGIN, y), "Pulleys to hand, best first");
    let mut table = Table::new(vec![
        Column::new(&format!("motor, {}", ruler.unit()), 20.0, Align::Point),
        Column::new(&format!("spindle, {}", ruler.unit()), 22.0, Align::Point),
        Column::new("ratio", 16.0, Align::Point),
        Column::new("reaches, rpm", 30.0, Align::Start),
        Column::new("knob at work", 22.0, Align::Point),
        Column::new("against it", 80.0, Align::Start),
    ]);
    for c in choices {
        let reach = c.range.map_or("–".to_string(), |(a, b)| format!("{:.0} to {:.0}", a.get(&RPM), b.get(&RPM)));
        table.row([
            ruler.bare(c.motor.get(&MM)),
            ruler.bare(c.spindle.get(&MM)),
            format!("{:.2}", c.ratio),
            reach,
            format!("{:.0}", 100.0 * c.knob),
            if c.against.is_empty() { "works".to_string() } else { c.against.join("; ") },
        ]);
    }
    let room = sheet.height - MARGIN - title::FOOT - y - 4.0;
    if let Some(first) = table.split(room).first() {
        first.draw(sheet, (MARGIN, y + 2.0));
    }
}
