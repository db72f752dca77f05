//! The print: artwork read safely, parted into inks, looked through for what is too fine, and turned into dots, stencils and blocks.
//! Bytes and numbers in, coverage maps and outlines out. Lengths are millimetres, colours sRGB bytes. Knows no cloth of a plan, no film and
//! no file format but that of the artwork.

pub mod artwork;
pub mod beat;
pub mod colour;
pub mod distance;
pub mod dots;
pub mod facts;
pub mod features;
pub mod mesh;
pub mod outline;
pub mod plate;
pub mod scattered;
pub mod separate;
pub mod stencil;

/// Why something of a print cannot be: a sentence for the person, without its full stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault(pub String);

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for Fault {}

/// How ink gets onto the cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Method {
    /// Pushed through a mesh.
    #[default]
    Screen,
    /// Dabbed through a cut sheet.
    Stencil,
    /// Pressed on by a cut block.
    Block,
}

impl Method {
    /// The word of the plan.
    pub fn of_word(word: &str) -> Option<Method> {
        match word {
            "screen" => Some(Method::Screen),
            "stencil" => Some(Method::Stencil),
            "block" => Some(Method::Block),
            _ => None,
        }
    }
}
