//! Artwork from a person's file: PNG or SVG, told apart by their first bytes. Every limit stands here, so that no file takes more than some
//! seconds or some hundred megabytes, whatever it says of itself; no file is opened and nothing is run that an SVG names.

mod png;
mod svg;

use super::Fault;

/// Longest file that is read, bytes.
pub const LONGEST: usize = 32 << 20;
/// Most pixels of a PNG.
pub const MOST_PIXELS: usize = 40_000_000;
/// Most pixels that artwork is painted in.
pub const MOST_PAINTED: usize = 24_000_000;
/// Longest side of a picture over its shortest.
const MOST_SLENDER: f64 = 50.0;

/// Pixels: four bytes each, red, green, blue (sRGB), and how solid (255) or clear (0). Colours are not multiplied by solidity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub width: usize,
    pub height: usize,
    pub rgba: Vec<u8>,
}

/// Artwork that was read.
pub enum Artwork {
    /// Shapes, sharp at any size.
    Drawn(Box<usvg::Tree>),
    /// Pixels.
    Painted(Picture),
}

impl std::fmt::Debug for Artwork {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Artwork::Drawn(tree) => write!(f, "a drawing of {:?}", tree.size()),
            Artwork::Painted(picture) => write!(f, "a picture of {} x {}", picture.width, picture.height),
        }
    }
}

/// How edges of a drawing are painted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edges {
    /// A pixel on an edge is a mixture.
    Smooth,
    /// A pixel is what lies at its middle: several times sooner, for a look at a picture that nobody sees.
    Hard,
}

impl Artwork {
    /// Reads a PNG or an SVG, to be painted with smooth edges.
    ///
    /// # Errors
    /// What it is instead, or which limit it breaks, or what in it is refused, in a sentence.
    pub fn read(bytes: &[u8]) -> Result<Artwork, Fault> {
        Artwork::read_with(bytes, Edges::Smooth)
    }

    /// The same, to be painted with such edges; a drawing that says itself how is painted as it says.
    ///
    /// # Errors
    /// As [`Artwork::read`].
    pub fn read_with(bytes: &[u8], edges: Edges) -> Result<Artwork, Fault> {
        if bytes.len() > LONGEST {
            return Err(Fault(format!(
                "the picture's file has {} MB; at most {} MB are read",
                bytes.len() >> 20,
                LONGEST >> 20
            )));
        }
        let artwork = match bytes {
            [0x89, b'P', b'N', b'G', ..] => Artwork::Painted(png::read(bytes)?),
            [0xff, 0xd8, ..] => return Err(Fault("this is a JPEG, which blurs edges; save the picture as PNG".into())),
            [0x1f, 0x8b, ..] => return Err(Fault("this SVG is compressed; save it as plain SVG".into())),
            _ => Artwork::Drawn(Box::new(svg::read(bytes, edges)?)),
        };
        let shape = artwork.shape();
        if !(1.0 / MOST_SLENDER..=MOST_SLENDER).contains(&shape) {
            return Err(Fault(format!(
                "the picture is {shape:.3} times as high as it is wide; a print takes {:.2} to {MOST_SLENDER:.0}",
                1.0 / MOST_SLENDER
            )));
        }
        Ok(artwork)
    }

    /// Height over width.
    pub fn shape(&self) -> f64 {
        match self {
            Artwork::Drawn(tree) => f64::from(tree.size().height()) / f64::from(tree.size().width()),
            Artwork::Painted(picture) => picture.height as f64 / picture.width as f64,
        }
    }

    /// Pixels across that it has of its own; none for a drawing.
    pub fn own_width(&self) -> Option<usize> {
        match self {
            Artwork::Drawn(_) => None,
            Artwork::Painted(picture) => Some(picture.width),
        }
    }

    /// The artwork in `width` by `height` pixels, stretched where these have another shape.
    ///
    /// # Errors
    /// No pixels, more than [`MOST_PAINTED`], or a drawing that paints over itself too often.
    pub fn picture(&self, width: usize, height: usize) -> Result<Picture, Fault> {
        if width == 0 || height == 0 || width.saturating_mul(height) > MOST_PAINTED {
            return Err(Fault(format!(
                "a picture of {width} by {height} pixels; it takes 1 to {MOST_PAINTED} pixels in all"
            )));
        }
        match self {
            Artwork::Drawn(tree) => svg::paint(tree, width, height),
            Artwork::Painted(picture) => Ok(png::resized(picture, width, height)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_files_are_named() {
        let why = |bytes: &[u8]| Artwork::read(bytes).unwrap_err().0;
        assert!(why(&[0xff, 0xd8, 0xff, 0xe0]).contains("JPEG"));
        assert!(why(&[0x1f, 0x8b, 8]).contains("compressed"));
        assert!(why(b"").contains("neither"));
        assert!(why(&[0xff, 0xfe, 0, 3]).contains("neither"));
        assert!(why(b"<html></html>").contains("svg"));
    }

    #[test]
    fn a_drawing_is_painted_in_any_size() {
        let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='20mm' viewBox='0 0 40 20'><rect x='10' y='5' \
                   width='20' height='10' fill='#102030'/></svg>";
        let artwork = Artwork::read(svg.as_bytes()).expect("sound");
        assert!((artwork.shape() - 0.5).abs() < 1e-6);
        let picture = artwork.picture(80, 80).expect("painted");
        let at = |x: usize, y: usize| &picture.rgba[(y * 80 + x) * 4..][..4];
        assert_eq!(at(40, 40), [0x10, 0x20, 0x30, 255]);
        assert_eq!(at(5, 5)[3], 0);
        let solid = picture.rgba.chunks(4).filter(|p| p[3] == 255).count();
        assert_eq!(solid, 40 * 40);
        assert!(artwork.picture(0, 5).is_err() && artwork.picture(9000, 9000).is_err());
    }
}
