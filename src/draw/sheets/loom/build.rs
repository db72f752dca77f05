//! What holds the loom, and the order to build it in, as pages.

use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::loom::steps::Mind;
use crate::machine::loom::structure::leans;
use crate::machine::loom::{Loom, Stands, Stiffening};

/// The usual caution for what a step minds.
pub fn hazard(mind: Mind) -> Hazard {
    match mind {
        Mind::Blades => Hazard::Blades,
        Mind::Dust => Hazard::Dust,
        Mind::HotGlue => Hazard::HotGlue,
        Mind::Laser => Hazard::Laser,
        Mind::Tension => Hazard::Tension,
        Mind::Rotation => Hazard::Rotation,
        Mind::Current => Hazard::Current,
    }
}

pub(super) fn sheets(loom: &Loom) -> Vec<Sheet> {
    vec![holds(loom), order(loom)]
}

fn holds(loom: &Loom) -> Sheet {
    let describe = "What was checked on the loom, with each number, its limit and the rule.";
    let mut s = title::page(Paper::A4, "loom-holds", "Does the loom hold", describe);
    let failed = loom.failed().count();
    let lead = match failed {
        0 => "Everything tried passes. Loads are the warp's mean pull and its greatest moment; nobody has measured yours yet.".to_string(),
        1 => "One thing does not pass: marked with a cross.".to_string(),
        n => format!("{n} things do not pass: marked with a cross."),
    };
    let y = title::head(&mut s, &lead);
    let mut table = Table::new(vec![
        Column::new("", 6.0, Align::Middle),
        Column::new("what", 52.0, Align::Start),
        Column::new("parts", 20.0, Align::Start),
        Column::new("is", 17.0, Align::Point),
        Column::new("", 12.0, Align::Start),
        Column::new("limit", 17.0, Align::Point),
        Column::new("rule", 66.0, Align::Start),
    ]);
    for f in &loom.findings {
        let digits = if f.limit.abs() < 20.0 { 2 } else { 0 };
        table.row([
            if f.passes { "✓" } else { "✗" }.to_string(),
            f.what.to_string(),
            f.parts.to_string(),
            format!("{:.digits$} {}", f.value, f.unit),
            if f.at_most { "at most" } else { "at least" }.to_string(),
            format!("{:.digits$}", f.limit),
            f.rule.to_string(),
        ]);
    }
    let mut y = table.draw(&mut s, (MARGIN, y)) + 5.0;
    let wide = s.width - 2.0 * MARGIN;
    if loom.wish.stands == Stands::Floor {
        let words: Vec<String> = leans(loom)
            .iter()
            .map(|(stiff, lean)| {
                format!(
                    "{} {lean:.1} mm",
                    match stiff {
                        Stiffening::Bare => "bolts alone",
                        Stiffening::Shelf => "a shelf at half height",
                        Stiffening::Brace => "crossed braces",
                    }
                )
            })
            .collect();
        let says = format!(
            "Lean sideways at the warp under a push of 60 N: {}. Tight joints counted; loose ones lean many times more.",
            words.join(", ")
        );
        y = text::paragraph(&mut s, Type::Small, (MARGIN, y), wide, &says) + 3.0;
    }
    caution::draw(&mut s, (MARGIN, y), wide, &[Hazard::Tension]);
    title::foot(&mut s, "");
    s
}

fn order(loom: &Loom) -> Sheet {
    let describe = "The order to build the loom in, step by step, with cautions.";
    let mut s = title::page(Paper::A4, "loom-build", "Build the loom in this order", describe);
    let mut y = title::head(&mut s, "Tick each step. Do not go on while a diagonal is off.");
    let wide = s.width - 2.0 * MARGIN;
    let mut minds: Vec<Mind> = Vec::new();
    for (i, step) in loom.steps.iter().enumerate() {
        minds.extend(&step.mind);
        s.rect(crate::draw::sheet::Line::Detail, kurbo::Rect::new(MARGIN, y + 0.2, MARGIN + 3.4, y + 3.6));
        s.words(Type::Strong, Anchor::End, (MARGIN + 10.5, text::base(Type::Strong, y)), format!("{}", i + 1));
        let marks = if step.parts.is_empty() { String::new() } else { format!("  [{}]", step.parts.join(", ")) };
        let sign = if step.mind.is_empty() { "" } else { "  ⚠" };
        y = text::paragraph(
            &mut s,
            Type::Body,
            (MARGIN + 13.0, y),
            wide - 13.0,
            &format!("{}{marks}{sign}", step.words),
        ) + 2.0;
    }
    minds.sort_unstable();
    minds.dedup();
    let hazards: Vec<Hazard> = minds.into_iter().map(hazard).collect();
    caution::draw(&mut s, (MARGIN, y + 1.0), wide, &hazards);
    title::foot(&mut s, "");
    s
}
