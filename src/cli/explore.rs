//! `explore`: every design that passes with what is fixed kept fixed, and the front of the best; one may be written into the plan.

use super::load::load;
use super::show::{FAINT, HEAD, inked};
use super::{Answer, Ending, Format, pretty};
use crate::chain::decide::decide;
use crate::diag::{self, show::Look};
use crate::outlook::explore::{Design, Found, explore as search};
use crate::plan::edit;
use std::path::Path;

/// The command. `take` is the number of a design of the front to write into the plan.
pub fn explore(path: &Path, designs: usize, take: Option<usize>, format: Format, look: Look) -> Answer {
    let loaded = load(path, look)?;
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    let brief = decide(&loaded.plan).map_err(|found| diag::show::render(&found, &loaded.text, name, look))?;
    let found = search(&brief, designs);
    if let Some(number) = take {
        let design = number
            .checked_sub(1)
            .and_then(|at| found.front.get(at))
            .ok_or_else(|| format!("there is no design {number}; the front has {}", found.front.len()))?;
        let text = written(&loaded.text, design)?;
        crate::disk::replace(path, text.as_bytes())?;
        return Ok((format!("Design {number} is written into {}.\n", path.display()), Ending::Done));
    }
    let text = if format == Format::Json { json(&found) } else { page(&found) };
    Ok((text, Ending::Done))
}

/// The plan with the design's numbers in it.
fn written(text: &str, design: &Design) -> Result<String, String> {
    let count =
        if design.plies > 1 { format!("R {:.1} tex", design.count) } else { format!("{:.1} tex", design.count) };
    let changes = [
        ("yarn.warp.count", count),
        ("yarn.warp.plies", design.plies.to_string()),
        ("yarn.warp.twist", format!("{:.2} TM", design.twist)),
        ("cloth.firmness", format!("{:.0} %", design.firmness * 100.0)),
        ("cloth.width", format!("{:.1} cm", design.width)),
        ("loom.heddle.heddles", design.heddles.to_string()),
    ];
    let changes: Vec<(&str, Option<&str>)> = changes.iter().map(|(key, value)| (*key, Some(value.as_str()))).collect();
    edit::all(text, &changes).map(|edited| edited.text).map_err(|fault| fault.message)
}

fn page(found: &Found) -> String {
    let mut out =
        format!("{} designs looked through, {} pass every check that can fail.\n\n", found.tried, found.passed);
    out += &inked(HEAD, "      count  plies   twist   firm  heddles   width     mass    hours    fibre\n");
    for (at, d) in found.front.iter().enumerate() {
        out += &format!(
            "{:>3} {:>6.1} tex {:>3} {:>6.2} TM {:>4.0} % {:>6} {:>7.1} cm {:>5.0} g/m2 {:>6.0} h {:>6.0} g\n",
            at + 1,
            d.count,
            d.plies,
            d.twist,
            d.firmness * 100.0,
            d.heddles,
            d.width,
            d.mass,
            d.hours,
            d.fibre
        );
    }
    if found.front.is_empty() {
        out += "No design passes. See `clothwright check` for what stands against the plan.\n";
    } else {
        out += &inked(
            FAINT,
            "\nIn each ten g/m2, designs that no other beats in hours and fibre. Take one: --take NUMBER\n",
        );
    }
    out
}

fn json(found: &Found) -> String {
    let design = |d: &Design| {
        serde_json::json!({
            "count": d.count, "plies": d.plies, "twist": d.twist, "firmness": d.firmness, "heddles": d.heddles, "width": d.width,
            "hours": d.hours, "fibre": d.fibre, "mass": d.mass,
        })
    };
    pretty(&serde_json::json!({
        "tried": found.tried, "passed": found.passed,
        "units": { "count": "tex", "twist": "TM", "width": "cm", "hours": "h", "fibre": "g", "mass": "g/m2" },
        "front": found.front.iter().map(design).collect::<Vec<_>>(),
        "some": found.some.iter().map(design).collect::<Vec<_>>(),
    }))
}
