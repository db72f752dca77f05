//! The order to build a machine in: a page of steps to tick, with what to mind at each.

use kurbo::Rect;

use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Line, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::loom::Step;
use crate::machine::loom::steps::Mind;

/// The usual caution for what a step minds.
fn hazard(mind: Mind) -> Hazard {
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

/// A page called `name` with its title and lead.
pub(super) fn sheet(name: &str, title: &str, lead: &str, steps: &[Step]) -> Sheet {
    let describe = format!("{title}: step by step, with cautions.");
    let mut s = title::page(Paper::A4, name, title, &describe);
    let mut y = title::head(&mut s, lead);
    let wide = s.width - 2.0 * MARGIN;
    let mut minds: Vec<Mind> = Vec::new();
    for (i, step) in steps.iter().enumerate() {
        minds.extend(&step.mind);
        s.rect(Line::Detail, Rect::new(MARGIN, y + 0.2, MARGIN + 3.4, y + 3.6));
        s.words(Type::Strong, Anchor::End, (MARGIN + 10.5, text::base(Type::Strong, y)), format!("{}", i + 1));
        let marks = if step.parts.is_empty() { String::new() } else { format!(" [{}]", step.parts.join(",\u{a0}")) };
        let sign = if step.mind.is_empty() { "" } else { "\u{a0}⚠" };
        let words = format!("{}{marks}{sign}", step.words);
        y = text::paragraph(&mut s, Type::Body, (MARGIN + 13.0, y), wide - 13.0, &words) + 2.0;
    }
    minds.sort_unstable();
    minds.dedup();
    let hazards: Vec<Hazard> = minds.into_iter().map(hazard).collect();
    caution::draw(&mut s, (MARGIN, y + 1.0), wide, &hazards);
    title::foot(&mut s, "");
    s
}
