//! What holds the loom, and the order to build it in, as pages.

use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Sheet, Type};
use crate::draw::sheets::steps;
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::loom::structure::{PUSH, leans};
use crate::machine::loom::{Loom, Stands, Stiffening};
use crate::units::Kind;
use crate::units::show::{self, Style};

pub(super) fn sheets(loom: &Loom) -> Vec<Sheet> {
    let order = "Tick each step. Do not go on while a diagonal is off.";
    vec![holds(loom), steps::sheet("loom-build", "Build the loom in this order", order, &loom.steps)]
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
    let (ruler, style) = (loom.wish.system.ruler(), loom.wish.system.ruler().0);
    let mut table = Table::new(vec![
        Column::new("", 6.0, Align::Middle),
        Column::new("what", 50.0, Align::Start),
        Column::new("parts", 20.0, Align::Start),
        Column::new("is", 20.0, Align::Point),
        Column::new("", 12.0, Align::Start),
        Column::new("limit", 20.0, Align::Point),
        Column::new("rule", 62.0, Align::Start),
    ]);
    for f in &loom.findings {
        table.row([
            if f.passes { "✓" } else { "✗" }.to_string(),
            f.what.to_string(),
            f.parts.to_string(),
            said(f.value, f.unit, style),
            if f.at_most { "at most" } else { "at least" }.to_string(),
            said(f.limit, f.unit, style),
            f.rule.clone(),
        ]);
    }
    let mut y = table.draw(&mut s, (MARGIN, y)) + 5.0;
    let wide = s.width - 2.0 * MARGIN;
    if loom.wish.stands == Stands::Floor {
        let words: Vec<String> = leans(loom)
            .iter()
            .map(|(stiff, lean)| {
                format!(
                    "{} {}",
                    match stiff {
                        Stiffening::Bare => "bolts alone",
                        Stiffening::Shelf => "a shelf at half height",
                        Stiffening::Brace => "crossed braces",
                    },
                    ruler.says_fine(*lean)
                )
            })
            .collect();
        let says = format!(
            "Lean sideways at the warp under a push of {}: {}. Tight joints counted; loose ones lean many times more.",
            said(PUSH, "N", style),
            words.join(", ")
        );
        y = text::paragraph(&mut s, Type::Small, (MARGIN, y), wide, &says) + 3.0;
    }
    caution::draw(&mut s, (MARGIN, y), wide, &[Hazard::Tension]);
    title::foot(&mut s, "");
    s
}

/// A finding's number in the units of the plan: the unit's name is one of the tables of units.
fn said(value: f64, unit: &str, style: Style) -> String {
    let found = Kind::ALL.iter().flat_map(|kind| kind.units()).find(|known| known.name == unit);
    found.map_or_else(|| format!("{} {unit}", show::number(value)), |u| show::quantity(u.scale.to_si(value), u, style))
}
