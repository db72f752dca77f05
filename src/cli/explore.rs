//! `explore`: every design that passes with what is fixed kept fixed, and the front of the best; one may be written into the plan.

use super::load::load;
use super::show::{FAINT, HEAD, inked};
use super::{Answer, Ending, Format, pretty};
use crate::chain::decide::decide;
use crate::diag::{self, Diagnostic, show::Look};
use crate::disk;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::designs;
use crate::draw::style::Look as Theme;
use crate::draw::{of_plan, pdf, png, svg};
use crate::outlook::explore::{Design, Found, explore as search};
use crate::plan::keys::TABLE;
use crate::plan::{self, Plan, edit};
use std::path::Path;

/// What `explore` is asked for.
pub struct Ask<'a> {
    /// Designs to look through, about.
    pub designs: usize,
    /// Keys that are treated as if the plan did not have them.
    pub free: &'a [String],
    /// Number of a design of the front to write into the plan.
    pub take: Option<usize>,
    /// File for the picture.
    pub out: Option<&'a Path>,
    pub format: Format,
}

/// The command.
pub fn explore(path: &Path, ask: &Ask, look: Look) -> Answer {
    let picture = ask.out.map(format_of).transpose()?;
    let loaded = load(path, look)?;
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    let shown = |found: Vec<Diagnostic>| diag::show::render(&found, &loaded.text, name, look);
    let plan = if ask.free.is_empty() { loaded.plan } else { freed(path, &loaded.text, ask.free)? };
    let brief = decide(&plan).map_err(shown)?;
    let found = search(&brief, ask.designs);
    if let Some(number) = ask.take {
        let design = number
            .checked_sub(1)
            .and_then(|at| found.front.get(at))
            .ok_or_else(|| format!("there is no design {number}; the front has {}", found.front.len()))?;
        let text = written(&loaded.text, design)?;
        disk::replace(path, text.as_bytes())?;
        return Ok((format!("Design {number} is written into {}.\n", path.display()), Ending::Done));
    }
    if let (Some(out), Some(format)) = (ask.out, picture) {
        let sheet = designs::sheet(&found, brief.style);
        disk::replace(out, &sheet_bytes(&sheet, format)?)?;
        return Ok((format!("{}\n", out.display()), Ending::Done));
    }
    let text = if ask.format == Format::Json { json(&found) } else { page(&found) };
    Ok((text, Ending::Done))
}

/// A picture's format by its file's ending.
fn format_of(out: &Path) -> Result<of_plan::Format, String> {
    let ending = out.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    match of_plan::Format::of_ending(ending) {
        Some(format @ (of_plan::Format::Svg | of_plan::Format::Pdf | of_plan::Format::Png)) => Ok(format),
        _ => Err(format!("{}: the picture is written as svg, pdf or png.", out.display())),
    }
}

fn sheet_bytes(sheet: &Sheet, format: of_plan::Format) -> Result<Vec<u8>, String> {
    match format {
        of_plan::Format::Svg => Ok(svg::file_in(sheet, Theme::Print).into_bytes()),
        of_plan::Format::Pdf => pdf::pages(std::slice::from_ref(sheet)).map_err(|fault| fault.to_string()),
        _ => png::bytes(sheet, 150.0, Theme::Print).map_err(|fault| fault.to_string()),
    }
}

/// The plan without some of its keys.
fn freed(path: &Path, text: &str, free: &[String]) -> Result<Plan, String> {
    for key in free {
        if TABLE.key(key).is_none() {
            let close = diag::near(key, TABLE.keys.iter().map(|key| key.path));
            return Err(format!(
                "`{key}` is no key of a plan.{}",
                close.map_or(String::new(), |close| format!(" Did you mean `{close}`?"))
            ));
        }
    }
    let changes: Vec<(&str, Option<&str>)> = free.iter().map(|key| (key.as_str(), None)).collect();
    let text = edit::all(text, &changes).map_err(|fault| fault.message)?.text;
    let files = disk::files(&text, path.parent().unwrap_or(Path::new(".")));
    let (plan, found) = plan::read(&text, &files);
    plan.ok_or_else(|| diag::show::render(&found, &text, "plan", Look::Plain))
}

/// The plan with the design's numbers in it.
fn written(text: &str, design: &Design) -> Result<String, String> {
    let typed = design.typed();
    let changes: Vec<(&str, Option<&str>)> = typed.iter().map(|(key, value)| (*key, Some(value.as_str()))).collect();
    edit::all(text, &changes).map(|edited| edited.text).map_err(|fault| fault.message)
}

fn page(found: &Found) -> String {
    let mut out =
        format!("{} designs looked through, {} pass every check that can fail.\n\n", found.tried, found.passed);
    out += &inked(HEAD, "      count  plies   twist   firm  heddles   width     mass    hours    fibre  cut\n");
    for (at, d) in found.front.iter().enumerate() {
        out += &format!(
            "{:>3} {:>6.1} tex {:>3} {:>6.2} TM {:>4.0} % {:>6} {:>7.1} cm {:>5.0} g/m2 {:>6.0} h {:>6.0} g  {}\n",
            at + 1,
            d.count,
            d.plies,
            d.twist,
            d.firmness * 100.0,
            d.heddles,
            d.width,
            d.mass,
            d.hours,
            d.fibre,
            d.cut.unwrap_or("")
        );
    }
    if found.front.is_empty() {
        out += "No design passes. See `clothwright check` for what stands against the plan.\n";
    } else {
        out += &inked(
            FAINT,
            "\nIn each ten g/m2, designs that no other beats in hours and fibre. Take one: --take NUMBER\nA picture of all: -o designs.svg. To let a key be chosen that the plan states: --free garment.cut\n",
        );
    }
    out
}

fn json(found: &Found) -> String {
    let design = |d: &Design| {
        let mut out = serde_json::json!({
            "count": d.count, "plies": d.plies, "twist": d.twist, "firmness": d.firmness, "heddles": d.heddles, "width": d.width,
            "hours": d.hours, "fibre": d.fibre, "mass": d.mass,
        });
        if let Some(cut) = d.cut {
            out["cut"] = cut.into();
        }
        out
    };
    pretty(&serde_json::json!({
        "tried": found.tried, "passed": found.passed,
        "units": { "count": "tex", "twist": "TM", "width": "cm", "hours": "h", "fibre": "g", "mass": "g/m2" },
        "front": found.front.iter().map(design).collect::<Vec<_>>(),
        "some": found.some.iter().map(design).collect::<Vec<_>>(),
    }))
}
