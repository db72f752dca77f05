//! Drawings of a plan: the one place that hands a worked-up outcome to the composers and to the exporters. The command line, the book and
//! the web ask here by name and compute nothing. Numbers come from the outcome; where the chain has none, the composer's own default is
//! taken and the drawing says so. Each group of drawings is a file of its own; a new drawing is a row of [`ALL`].

mod amounts;
mod cloth;
mod export;
mod garment;
mod loom;
pub mod parts;
mod print;
mod spinner;
mod weave;
mod yarn;

pub use cloth::{TRUE_DOTS, TRUE_SIDE, picture};
pub use export::{Named, Options, export};
pub use print::FILM_DOTS;
pub use weave::hanging;

use crate::diag::near;
use crate::draw::sheet::Sheet;
use crate::outlook::Outcome;

/// What a drawing can be written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    Svg,
    Pdf,
    Png,
    Dxf,
    Stl,
    /// The weaving information file, for a draft.
    Wif,
}

impl Format {
    /// Every format, in the order they are named to a person.
    pub const ALL: [Format; 6] = [Format::Svg, Format::Pdf, Format::Png, Format::Dxf, Format::Stl, Format::Wif];

    /// The end of a file's name, without its dot.
    pub fn ending(self) -> &'static str {
        match self {
            Format::Svg => "svg",
            Format::Pdf => "pdf",
            Format::Png => "png",
            Format::Dxf => "dxf",
            Format::Stl => "stl",
            Format::Wif => "wif",
        }
    }
    /// The format of a file's ending, in any case.
    pub fn of_ending(ending: &str) -> Option<Format> {
        Format::ALL.into_iter().find(|format| format.ending().eq_ignore_ascii_case(ending))
    }
}

/// How a drawing is made of an outcome; the error is a sentence for the person.
type Compose = fn(&Outcome) -> Result<Vec<Sheet>, String>;

/// A drawing that a plan may have.
pub struct Drawing {
    /// The word it is asked for by.
    pub name: &'static str,
    pub title: &'static str,
    /// One sentence on what it is for.
    pub says: &'static str,
    pub formats: &'static [Format],
    compose: Compose,
}

/// Pages of words and pictures.
const PAGES: &[Format] = &[Format::Svg, Format::Pdf, Format::Png];
/// What a weaving program may read too.
const DRAFT: &[Format] = &[Format::Svg, Format::Pdf, Format::Png, Format::Wif];
/// What a saw, a laser or a pattern cutter may read too.
const SHAPES: &[Format] = &[Format::Svg, Format::Pdf, Format::Png, Format::Dxf];
/// What a printer of solids reads besides.
const SOLIDS: &[Format] = &[Format::Svg, Format::Pdf, Format::Png, Format::Dxf, Format::Stl];

macro_rules! drawings {
    ($($name:literal $title:literal $says:literal $formats:expr, $compose:path;)*) => {
        /// Every drawing, in the order of the work.
        pub static ALL: &[Drawing] =
            &[$(Drawing { name: $name, title: $title, says: $says, formats: $formats, compose: $compose }),*];
    };
}
drawings! {
    "flow" "From plant to garment" "How much fibre, yarn and cloth there is at each step, and what is lost between." PAGES, amounts::flow;
    "hours" "Hours of work" "How long each step takes, with its range." PAGES, amounts::hours;
    "bobbins" "Evenness of the bobbins" "How thick each bobbin came out, and which belong to warp and weft; needs the log." PAGES, yarn::bobbins;
    "stripes" "Stripes, and the order that hides them" "In which order to take the bobbins so that no stripe shows; needs the log." PAGES, yarn::stripes;
    "cloth" "The cloth before it is woven" "How the washed cloth will look from the front, from the back and against the light." PAGES, cloth::sheets;
    "ribbons" "How the yarns lie" "A repeat of the cloth drawn as lines, sharp at any size: the face, over and under as woven." PAGES, cloth::ribbons;
    "section" "The cloth cut open" "How the yarns bend over each other, to scale, washed and off the loom." PAGES, cloth::sections;
    "draft" "The draft" "Threading, tie-up, treadling and the cloth they make; as WIF for other weaving programs." DRAFT, weave::draft;
    "warping" "Winding the warp" "How long, in what order and in how many passes the warp is wound." PAGES, weave::warping;
    "threading" "Threading the heddles" "Where every thread goes, in tens to tick." PAGES, weave::threading;
    "pattern" "The paper pattern" "Every piece at full size, to print, glue and cut." SHAPES, garment::pattern;
    "lay" "The lay" "Where each piece is cut from the cloth." SHAPES, garment::lay;
    "widths" "Which width to weave" "How cloth, and work, depend on the width you weave." PAGES, garment::widths;
    "sewing" "Sewing order" "What to sew after what, with a picture of each step." PAGES, garment::sewing;
    "spinner" "The spinner" "The spinner to build: its parts to scale, the order it is put together in, and the speeds it is built for." SOLIDS, spinner::machine;
    "knob" "Where to set the knob" "The speed knob's place for each yarn, with motor current and heat." PAGES, spinner::knob;
    "brake" "The brake's marks" "How far to turn the brake as the bobbin fills." PAGES, spinner::brake;
    "wiring" "The spinner's wiring" "The low-voltage circuit, what was tried on it, and what to buy." PAGES, spinner::wiring;
    "loom" "The loom" "The loom to build: to scale, taken apart, and in the order it is put together." SOLIDS, loom::machine;
    "shed" "The shed" "How far the threads open for the shuttle, and what that asks of them." SHAPES, loom::shed;
    "heddle" "The heddle" "The heddle to make, enlarged, against other ways to make it, and its outline to cut." SOLIDS, loom::heddle;
    "parts" "The loom's parts" "Every part of the loom with its size, how parts are joined, ratchet and pawl at full size." SHAPES, loom::parts;
    "cuts" "Cut these boards and rods" "How each board and rod of both machines is sawn, and what to buy." PAGES, loom::cuts;
    "preview" "The print on this cloth" "How the print will look on this cloth, whole and close up, fresh and washed." PAGES, print::preview;
    "film" "Films, stencils or blocks" "What each ink is printed from, at full size, and how to print it." SHAPES, print::films;
    "placement" "Where the print goes" "The print on its piece, and a paper template to lay it by." SHAPES, print::placement;
    "teststrip" "Test strip" "Lines, gaps and dots to find what your own cloth holds." PAGES, print::teststrip;
}

/// The drawing of a name. The error names what comes near it.
pub fn find(name: &str) -> Result<&'static Drawing, String> {
    if let Some(drawing) = ALL.iter().find(|drawing| drawing.name == name) {
        return Ok(drawing);
    }
    let names = || ALL.iter().map(|drawing| drawing.name);
    Err(match near(name, names()) {
        Some(close) => format!("There is no drawing `{name}`; did you mean `{close}`?"),
        None => format!("There is no drawing `{name}`; there are {}.", names().collect::<Vec<_>>().join(", ")),
    })
}

/// The drawing for a screen as narrow as a phone's, where there is one.
pub fn narrow(outcome: &Outcome, name: &str) -> Option<Sheet> {
    match name {
        "flow" => amounts::narrow_flow(outcome).ok(),
        "hours" => amounts::narrow_hours(outcome).ok(),
        _ => None,
    }
}

/// The sheets of a drawing; most have one.
///
/// # Errors
/// A sentence for the person: no such drawing, or why this plan has none.
pub fn sheets(outcome: &Outcome, name: &str) -> Result<Vec<Sheet>, String> {
    let mut sheets = (find(name)?.compose)(outcome)?;
    number(&mut sheets);
    Ok(sheets)
}

/// Gives pages of one name a number each from the second on, so that their files are told apart.
fn number(sheets: &mut [Sheet]) {
    for at in 1..sheets.len() {
        let (before, rest) = sheets.split_at_mut(at);
        let same =
            before.iter().filter(|sheet| sheet.name == rest[0].name || is_numbered(&sheet.name, &rest[0].name)).count();
        if same > 0 {
            rest[0].name = format!("{}-{}", rest[0].name, same + 1);
        }
    }
}

/// Whether a page's name is that of its drawing with a number.
fn is_numbered(name: &str, of: &str) -> bool {
    let number = name.strip_prefix(of).and_then(|rest| rest.strip_prefix('-'));
    number.is_some_and(|number| number.parse::<u32>().is_ok())
}

/// Why a plan has no such drawing, without drawing it in full where that takes long; none where it has it.
pub fn reason_against(outcome: &Outcome, name: &str) -> Option<String> {
    if ["preview", "film", "placement", "teststrip"].contains(&name) {
        return print::reason_against(outcome);
    }
    let found = if name == "cloth" {
        cloth::look(outcome, cloth::State::Washed, 1).map(drop)
    } else {
        sheets(outcome, name).map(drop)
    };
    found.err()
}
