//! `draw`: a drawing of a plan into files, each written whole or not at all; without a file, what drawings the plan has.

use super::page::{Asked, WithLog, outcome_as};
use super::show::{FAINT, HEAD, inked, wrapped};
use super::{Answer, Ending};
use crate::diag::show::Look;
use crate::disk;
use crate::draw::of_plan::{self, Drawing, Format, Named, Options};
use crate::draw::title::Paper;
use crate::outlook::Outcome;
use crate::outlook::trials::FEW;
use clap::ValueEnum;
use std::path::{Path, PathBuf};

/// Paper that tiles are made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum TilePaper {
    A4,
    Letter,
}

impl From<TilePaper> for Paper {
    fn from(paper: TilePaper) -> Paper {
        match paper {
            TilePaper::A4 => Paper::A4,
            TilePaper::Letter => Paper::Letter,
        }
    }
}

/// What `draw` is asked for.
pub struct Ask<'a> {
    pub sheet: Option<&'a str>,
    pub plan: &'a Path,
    pub out: Option<&'a Path>,
    pub log: WithLog,
    pub options: Options,
}

/// The command.
pub fn draw(ask: &Ask, look: Look) -> Answer {
    // a wrong name or ending is told before anything is worked out
    let drawing = ask.sheet.map(of_plan::find).transpose()?;
    let format = ask.out.map(format_of).transpose()?;
    // the log is read only for what is drawn of it
    let of_log = matches!(ask.sheet, None | Some("bobbins" | "stripes"));
    let log = if of_log || ask.log == WithLog::Yes { ask.log } else { WithLog::No };
    let outcome = outcome_as(ask.plan, Asked { trials: FEW, log, ..Asked::default() }, look)?;
    match (drawing, ask.out, format) {
        (Some(drawing), Some(out), Some(format)) => {
            let files = of_plan::export(&outcome, drawing.name, format, &ask.options)?;
            let written = write_all(out, drawing.name, &files)?;
            let lines = written.iter().map(|path| format!("{}\n", path.display()));
            Ok((lines.collect(), Ending::Done))
        }
        (Some(drawing), ..) => Ok((one(&outcome, drawing), Ending::Done)),
        _ => Ok((list(&outcome), Ending::Done)),
    }
}

fn format_of(out: &Path) -> Result<Format, String> {
    let endings = || Format::ALL.map(Format::ending).join(", ");
    let Some(ending) = out.extension().and_then(|ending| ending.to_str()) else {
        return Err(format!("{}: the file needs an ending that says its format: {}.", out.display(), endings()));
    };
    Format::of_ending(ending)
        .ok_or_else(|| format!("{}: `{ending}` is no format; there are {}.", out.display(), endings()))
}

/// A drawing in a few lines: what it is for, its sheets, what it can be written as.
fn one(outcome: &Outcome, drawing: &Drawing) -> String {
    let mut out = format!("{}\n{}\n", inked(HEAD, drawing.title), drawing.says);
    match of_plan::sheets(outcome, drawing.name) {
        Ok(sheets) => {
            for sheet in &sheets {
                out += &format!("  {}  {:.0} x {:.0} mm\n", sheet.title, sheet.width, sheet.height);
            }
            out += &format!("Write it with -o {}.pdf; made as {}.\n", drawing.name, endings(drawing));
        }
        Err(why) => out += &format!("Not for this plan. {why}\n"),
    }
    out
}

fn endings(drawing: &Drawing) -> String {
    drawing.formats.iter().map(|format| format.ending()).collect::<Vec<_>>().join(", ")
}

/// Every drawing, and why this plan has not all of them.
fn list(outcome: &Outcome) -> String {
    let mut out = format!("{}\n", inked(HEAD, &format!("Drawings of {}", outcome.brief.title)));
    for drawing in of_plan::ALL {
        let words = match of_plan::reason_against(outcome, drawing.name) {
            None => drawing.says.to_string(),
            Some(why) => inked(FAINT, &format!("not for this plan: {why}")),
        };
        out += &format!("  {:10} {}\n", drawing.name, wrapped(&words, 84, 13));
        out += &format!("  {:10} {}\n", "", inked(FAINT, &endings(drawing)));
    }
    out += "\nclothwright draw NAME PLAN -o FILE\n";
    out
}

/// Writes the files beside each other. One file takes the name asked for; of several each keeps what tells it apart.
fn write_all(out: &Path, name: &str, files: &[Named]) -> Result<Vec<PathBuf>, String> {
    let stem = out.file_stem().and_then(|stem| stem.to_str()).unwrap_or(name);
    let ending = out.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    let mut written = Vec::new();
    for file in files {
        let own = Path::new(&file.file_name).file_stem().and_then(|own| own.to_str()).unwrap_or(name);
        let path = match (files.len(), own.strip_prefix(name)) {
            (1, _) | (_, Some("")) => out.to_path_buf(),
            (_, Some(rest)) => out.with_file_name(format!("{stem}-{}.{ending}", rest.trim_start_matches('-'))),
            (_, None) => out.with_file_name(format!("{stem}-{own}.{ending}")),
        };
        disk::replace(&path, &file.bytes)?;
        written.push(path);
    }
    Ok(written)
}
