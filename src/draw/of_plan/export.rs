//! A drawing of a plan as files: which exporter, how many files, what they are called.

use super::{Drawing, Format, cloth, find, loom, print, spinner, weave};
use crate::draw::refused::Refused;
use crate::draw::sheet::Sheet;
use crate::draw::style::Look;
use crate::draw::title::Paper;
use crate::draw::{dxf, pdf, png, solid, svg, tiles};
use crate::machine::Refusal;
use crate::machine::shape::mesh::Mesh;
use crate::outlook::Outcome;

/// How a drawing is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Dots an inch of a PNG, 36 to 1200.
    pub dpi: f64,
    /// Large sheets in pieces on this paper, to be glued; `None` writes each sheet on a page of its own size. PDF only.
    pub paper: Option<Paper>,
    /// What chance in a picture comes from.
    pub seed: u64,
}

impl Default for Options {
    fn default() -> Self {
        Options { dpi: 150.0, paper: None, seed: 1 }
    }
}

/// A file to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// Name with its ending: "lay.pdf".
    pub file_name: String,
    pub bytes: Vec<u8>,
}

/// Strip that two neighbouring tiles share, mm.
pub(super) const OVERLAP: f64 = 15.0;

/// A drawing as files in a format. PDF is one file; the others are one for each sheet or solid.
///
/// # Errors
/// A sentence for the person: no such drawing, not in this format, why this plan has none, or why it cannot be written.
pub fn export(outcome: &Outcome, name: &str, format: Format, options: &Options) -> Result<Vec<Named>, String> {
    let drawing = find(name)?;
    if !drawing.formats.contains(&format) {
        return Err(no_such_format(drawing, format));
    }
    match format {
        Format::Stl => return solids(outcome, name),
        Format::Wif => return Ok(vec![Named { file_name: format!("{name}.wif"), bytes: weave::wif(outcome)? }]),
        Format::Png if name == "cloth" => return cloth::pictures(outcome, options),
        Format::Pdf if name == "film" => {
            if let Some(files) = print::film_files(outcome, options)? {
                return Ok(files);
            }
        }
        _ => {}
    }
    let sheets = if name == "film" && format == Format::Dxf {
        print::films_as_lines(outcome)?
    } else {
        super::sheets(outcome, name)?
    };
    let written = match format {
        Format::Pdf => paged(&sheets, options.paper).map(|pages| named(&sheets, name, "pdf", pages)),
        Format::Svg => each(&sheets, "svg", |sheet| Ok(svg::file(sheet).into_bytes())),
        Format::Dxf => each(&sheets, "dxf", dxf::bytes),
        _ => each(&sheets, "png", |sheet| png::bytes(sheet, options.dpi, Look::Print)),
    };
    written.map_err(|refused| format!("The drawing `{name}` cannot be written: {refused}."))
}

fn no_such_format(drawing: &Drawing, format: Format) -> String {
    let endings: Vec<&str> = drawing.formats.iter().map(|format| format.ending()).collect();
    let (name, asked) = (drawing.name, format.ending());
    format!("The drawing `{name}` is not made as {asked}; it is made as {}.", endings.join(", "))
}

fn each(
    sheets: &[Sheet],
    ending: &str,
    write: impl Fn(&Sheet) -> Result<Vec<u8>, Refused>,
) -> Result<Vec<Named>, Refused> {
    let one = |sheet: &Sheet| Ok(Named { file_name: format!("{}.{ending}", sheet.name), bytes: write(sheet)? });
    sheets.iter().map(one).collect()
}

/// Documents of all sheets: one, or one more for each sheet that has to be glued from tiles.
fn paged(sheets: &[Sheet], paper: Option<Paper>) -> Result<Vec<Vec<u8>>, Refused> {
    let Some(paper) = paper else { return Ok(vec![pdf::pages(sheets)?]) };
    let (small, large): (Vec<Sheet>, Vec<Sheet>) = sheets.iter().cloned().partition(|sheet| fits(sheet, paper));
    let mut out = Vec::new();
    if !small.is_empty() {
        out.push(pdf::pages(&small)?);
    }
    for sheet in &large {
        out.push(tiles::pdf(sheet, paper, OVERLAP)?);
    }
    Ok(out)
}

/// Whether a sheet goes on a paper, upright or on its side, as it is; a few millimetres of its empty margin may be lost.
fn fits(sheet: &Sheet, paper: Paper) -> bool {
    let (short, long) = paper.size();
    let (low, high) = (sheet.width.min(sheet.height), sheet.width.max(sheet.height));
    // a sheet composed for one paper keeps its content 10 mm from the edge
    low <= short + 8.0 && high <= long + 18.0
}

fn named(sheets: &[Sheet], name: &str, ending: &str, documents: Vec<Vec<u8>>) -> Vec<Named> {
    let many = documents.len() > 1;
    let file = |(at, bytes): (usize, Vec<u8>)| {
        let suffix = if many && at > 0 { format!("-{}", at + 1) } else { String::new() };
        Named { file_name: format!("{name}{suffix}.{ending}"), bytes }
    };
    debug_assert!(!sheets.is_empty(), "{name} has no sheet");
    documents.into_iter().enumerate().map(file).collect()
}

/// Every solid of a drawing, each a file.
fn solids(outcome: &Outcome, name: &str) -> Result<Vec<Named>, String> {
    let meshes: Vec<(String, Mesh)> = match name {
        "spinner" => spinner::solids(outcome)?,
        "loom" => loom::solids(outcome)?,
        _ => loom::heddle_solids(outcome)?,
    };
    let write = |(part, mesh): (String, Mesh)| {
        let bytes = solid::stl(&mesh).map_err(|refusal| words(&refusal))?;
        Ok(Named { file_name: format!("{part}.stl"), bytes })
    };
    meshes.into_iter().map(write).collect()
}

/// A machine's refusal as a sentence.
pub(super) fn words(refusal: &Refusal) -> String {
    format!("It cannot be built as planned ({}): {}.", refusal.about, refusal.words)
}
