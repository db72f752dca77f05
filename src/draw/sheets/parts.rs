//! The loom's parts list with sizes and notes, how parts are joined, and outlines at full size for what is sawn from sheet.

use super::view::{View, size};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::loom::{Loom, Stuff, parts};
use crate::machine::shape::Outline;
use crate::units::{KG, LB, Mass, Q};

/// List, joints, and the outlines of ratchet and pawl.
pub fn sheets(loom: &Loom) -> Vec<Sheet> {
    let mut out = list(loom);
    out.push(holding(loom));
    out
}

fn list(loom: &Loom) -> Vec<Sheet> {
    let ruler = loom.wish.system.ruler();
    let heft = |mass: Q<Mass>| ruler.of(mass.get(&KG), mass.get(&LB));
    let mut table = Table::new(vec![
        Column::new("mark", 11.0, Align::Start),
        Column::new("part", 27.0, Align::Start),
        Column::new("how many", 14.0, Align::Middle),
        Column::new(&format!("size, {}", ruler.unit()), 40.0, Align::Start),
        Column::new("of", 24.0, Align::Start),
        Column::new(ruler.of("kg", "lb"), 12.0, Align::Point),
        Column::new("", 62.0, Align::Start),
    ]);
    for p in &loom.parts {
        let heft = heft(p.mass(parts::density(p)));
        table.row([
            p.mark.clone(),
            p.name.to_string(),
            p.how_many.to_string(),
            named(&p.stuff, &size(&p.stuff, ruler)),
            p.of.to_string(),
            if heft > 0.005 { format!("{heft:.2}") } else { String::new() },
            p.note.clone(),
        ]);
    }
    table.total(["", "all", "", "", "", &format!("{:.1}", heft(parts::mass(loom))), ""]);
    let mut joints =
        Table::new(vec![Column::new("joint", 22.0, Align::Start), Column::new("how", 168.0, Align::Start)]);
    for j in &loom.joints {
        joints.row([format!("{} – {}", j.between.0, j.between.1), j.words.clone()]);
    }
    pages(&table, &joints)
}

/// A size with the shop's name of the board, where that is not the size itself.
fn named(stuff: &Stuff, words: &str) -> String {
    match stuff {
        Stuff::Board { section, thick, wide, .. }
            if *section != "square" && *section != format!("{thick:.0}x{wide:.0}") =>
        {
            format!(
                "{words}
({section})"
            )
        }
        _ => words.to_string(),
    }
}

/// The list over as many pages as it needs, the joints on the last where they fit.
fn pages(table: &Table, joints: &Table) -> Vec<Sheet> {
    let describe = "The loom's parts with marks, sizes, wood and number, and how they are joined.";
    let lead = "Sizes are true sizes; the shop's name for a board stands in brackets. Rods: measure before you drill.";
    let bottom = Paper::A4.size().1 - MARGIN - title::FOOT;
    let mut out: Vec<Sheet> = Vec::new();
    let mut y = 0.0;
    for (i, part) in table.split(bottom - 40.0).iter().enumerate() {
        let name = if i == 0 { "parts".to_string() } else { format!("parts-{}", i + 1) };
        let mut s = title::page(Paper::A4, &name, "The loom's parts", describe);
        let top = title::head(&mut s, lead);
        y = part.draw(&mut s, (MARGIN, top)) + 6.0;
        out.push(s);
    }
    let need = joints.height() + 6.0 + caution::height(190.0, &[Hazard::Blades]);
    if y + need > bottom {
        let mut s = title::page(Paper::A4, "parts-joints", "How the loom's parts are joined", describe);
        y = title::head(&mut s, "") + 5.0;
        out.push(s);
    }
    if let Some(s) = out.last_mut() {
        s.words(Type::Strong, Anchor::Start, (MARGIN, y), "Joints");
        let low = joints.draw(s, (MARGIN, y + 2.0));
        if low + 4.0 + caution::height(190.0, &[Hazard::Blades]) < bottom {
            caution::draw(s, (MARGIN, low + 4.0), 190.0, &[Hazard::Blades]);
        }
    }
    out.iter_mut().for_each(|s| title::foot(s, ""));
    out
}

/// Ratchet wheel and pawl at full size on one sheet: a paper pattern, and what a laser or router cuts.
pub fn holding(loom: &Loom) -> Sheet {
    let d = loom.wheel.diameter;
    let pawl = loom.pawl.bounds();
    let (wide, tall) = ((d + 30.0 + pawl.1[0] - pawl.0[0] + 60.0).max(200.0), d + 62.0);
    let describe = "Ratchet wheel and pawl at full size.";
    let mut s = Sheet::new("ratchet", "Ratchet wheel F1 and pawl F2, full size", describe, wide, tall);
    s.scale = Some(1.0);
    s.words(Type::Heading, Anchor::Start, (10.0, 12.0), s.title.clone());
    let ruler = loom.wish.system.ruler();
    let thick = format!(
        "{} birch plywood or printed. Saw on the waste side of the line. Two wheels, {} pawls. Left side: mirrored.",
        ruler.says(loom.wheel.thick),
        2 * loom.wheel.pawls
    );
    s.words(Type::Small, Anchor::Start, (10.0, 18.0), thick);
    let v = View::new(14.0 + d / 2.0, 26.0 + d / 2.0, 1.0).written(ruler);
    v.outline(&mut s, None, Line::Cut, &loom.ratchet);
    v.cross(&mut s, (0.0, 0.0), loom.wheel.bore / 2.0);
    dim::horizontal(
        &mut s,
        v.at(-d / 2.0, 0.0),
        v.at(d / 2.0, 0.0),
        v.at(0.0, -d / 2.0).y + 7.0,
        &format!("ø {}, {} teeth", v.len(d), loom.wheel.teeth),
    );
    dim::leader(
        &mut s,
        v.at(loom.wheel.bore * 0.35, loom.wheel.bore * 0.35),
        v.at(d * 0.22, d * 0.2),
        &[&format!("ø {}", v.len(loom.wheel.bore))],
    );
    let p = View::new(d + 44.0, 26.0 + d / 2.0, 1.0).written(ruler);
    v_pawl(&mut s, &p, &loom.pawl, ruler.of("drill ø 6.2 for M6", "drill ø 17/64 for 1/4 in"));
    s
}

fn v_pawl(s: &mut Sheet, v: &View, pawl: &Outline, drill: &str) {
    v.outline(s, None, Line::Cut, pawl);
    v.cross(s, (0.0, 0.0), 3.0);
    let (low, high) = pawl.bounds();
    let y = v.at(0.0, low[1]).y + 7.0;
    dim::horizontal(s, v.at(0.0, low[1]), v.at(high[0], low[1]), y, &v.len(high[0]));
    dim::leader(s, v.at(1.0, 2.0), v.at(12.0, 24.0), &[drill]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::loom::{design, tests::tern_bay};

    #[test]
    fn all_parts_are_listed_inside_the_paper() {
        let loom = design(&tern_bay()).unwrap();
        let all = sheets(&loom);
        let mut words = Vec::new();
        for sheet in &all {
            let e = extent::of(&sheet.items).unwrap();
            assert!(e.x0 > 3.0 && e.x1 < sheet.width - 3.0 && e.y1 < sheet.height - 2.0, "{} {e:?}", sheet.name);
            extent::walk(&sheet.items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    words.push(text.to_string());
                }
            });
        }
        for part in &loom.parts {
            assert!(words.contains(&part.mark));
        }
    }
}
