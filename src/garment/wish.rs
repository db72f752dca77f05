//! What a person asks for: the kind of article, the body or the finished size, and how it is to be sewn. Lengths are
//! finished, worn, washed lengths. Nothing is decided here; what is left out (`None`) is decided by the draft, which says so.

use crate::trade::body::{Group, Part};
use crate::units::{Length, MM, PERCENT, Q, Ratio};
use std::collections::BTreeMap;

/// The article.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Drop-shoulder top with curved armholes and set-in sleeves.
    TeeShaped,
    /// Top of rectangles with underarm gussets.
    TeeStraight,
    Apron,
    Tote,
    Towel,
    Scarf,
    /// Whatever the person drew.
    Pieces,
}

impl Kind {
    /// What a sheet calls it.
    pub fn word(self) -> &'static str {
        match self {
            Kind::TeeShaped => "tee, shaped",
            Kind::TeeStraight => "tee, straight",
            Kind::Apron => "apron",
            Kind::Tote => "tote",
            Kind::Towel => "towel",
            Kind::Scarf => "scarf",
            Kind::Pieces => "own pieces",
        }
    }
}

/// The opening for the head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NeckStyle {
    /// Curved, wider and deeper than the neck.
    Scoop,
    /// Curved, at the root of the neck; always needs a slit.
    Close,
    /// Curved, wide and shallow, just wide enough for the head where the shoulders allow.
    Boat,
    /// Straight along the shoulders: nothing is cut away.
    Slit,
    /// Close round the neck with a slit down the front.
    Keyhole,
}

impl NeckStyle {
    /// The word of the plan.
    pub fn word(self) -> &'static str {
        match self {
            NeckStyle::Scoop => "scoop",
            NeckStyle::Close => "close",
            NeckStyle::Boat => "boat",
            NeckStyle::Slit => "slit",
            NeckStyle::Keyhole => "keyhole",
        }
    }
    pub const ALL: [NeckStyle; 5] =
        [NeckStyle::Scoop, NeckStyle::Close, NeckStyle::Boat, NeckStyle::Slit, NeckStyle::Keyhole];
}

/// The neck wished for; sizes at the finished edge.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct NeckWish {
    /// `None`: scoop on a shaped cut, slit on a straight one.
    pub style: Option<NeckStyle>,
    /// Across, from side neck point to side neck point.
    pub width: Option<Q<Length>>,
    /// Below the side neck points in front.
    pub front_depth: Option<Q<Length>>,
    /// Below the side neck points behind.
    pub back_depth: Option<Q<Length>>,
}

/// How long the sleeve is, from the shoulder point.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum SleeveWish {
    #[default]
    Short,
    Long,
    At(Q<Length>),
}

/// How the seams are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum SeamKind {
    /// Sewn once, pressed open, raw edges overcast.
    #[default]
    Plain,
    /// Sewn, one edge trimmed, the other folded over it and sewn down flat.
    Felled,
    /// Sewn wrong sides together, turned, sewn again: the raw edges are inside.
    French,
    /// One edge laid over the other and sewn twice: for selvedges, which do not fray.
    Lapped,
}

impl SeamKind {
    /// The word of the plan.
    pub fn word(self) -> &'static str {
        match self {
            SeamKind::Plain => "plain",
            SeamKind::Felled => "felled",
            SeamKind::French => "french",
            SeamKind::Lapped => "lapped",
        }
    }
    pub const ALL: [SeamKind; 4] = [SeamKind::Plain, SeamKind::Felled, SeamKind::French, SeamKind::Lapped];
}

/// Seams and hems wished for.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct SewWish {
    pub seams: SeamKind,
    /// Seam allowance; `None`: by the kind of seam.
    pub allowance: Option<Q<Length>>,
    /// Whole depth of a hem, both turns; `None`: by the article.
    pub hem: Option<Q<Length>>,
    /// The cloth is open (finished cover factor below 18): no allowance under 15 mm.
    pub open_cloth: bool,
}

/// Ease: garment girth less body girth.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct EaseWish {
    pub chest: Option<Q<Length>>,
    pub hip: Option<Q<Length>>,
    pub upper_arm: Option<Q<Length>>,
}

/// Size of a finished article.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finished {
    pub width: Q<Length>,
    pub length: Q<Length>,
    /// Of a bag, front to back.
    pub depth: Option<Q<Length>>,
}

/// Handles of a bag, or the straps of an apron.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct HandleWish {
    /// From seam to seam.
    pub length: Option<Q<Length>>,
    /// Finished.
    pub width: Option<Q<Length>>,
}

/// A printed picture and where it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintWish {
    /// "front", "back", or the name of a free piece.
    pub piece: String,
    pub width: Q<Length>,
    pub height: Q<Length>,
    /// From the finished neck edge in front, or the top edge of a bag or free piece, to the top of the print. `None`: a
    /// place that looks right.
    pub below: Option<Q<Length>>,
    /// From the centre line to the middle of the print, to the wearer's left. `None`: on the centre line.
    pub across: Option<Q<Length>>,
}

impl PrintWish {
    /// How far the middle of the print lies to the right on a piece drawn as it is seen from outside, mm: the wearer's left is at the
    /// right on the front, at the left on the back.
    pub(super) fn aside(&self) -> f64 {
        let left = super::make::mm(self.across).unwrap_or(0.0);
        if self.piece == "back" { -left } else { left }
    }
}

/// The outline of a free piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    Rectangle {
        width: Q<Length>,
        length: Q<Length>,
    },
    /// Bytes of an SVG file with a true size.
    Svg(Vec<u8>),
    /// Bytes of a DXF file with a unit.
    Dxf(Vec<u8>),
}

/// A piece the person brings.
#[derive(Clone, Debug, PartialEq)]
pub struct FreePiece {
    pub name: String,
    pub outline: Outline,
    pub how_many: u32,
    /// Half of them are cut turned over.
    pub pairs: bool,
    /// Added all round; `None`: the outline already holds its allowance.
    pub allowance: Option<Q<Length>>,
}

/// The measured body, and whose usual size stands in for what was not measured.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Body {
    pub measured: BTreeMap<Part, Q<Length>>,
    /// `None`: the mean of both tables, and the outcome asks for a measurement.
    pub like: Option<Group>,
    /// The percentile to start from when not even the chest was measured; `None`: the middle.
    pub percentile: Option<f64>,
}

impl Body {
    /// A body of which a usual size is all that is known.
    pub fn usual(group: Group, percentile: f64) -> Body {
        Body { measured: BTreeMap::new(), like: Some(group), percentile: Some(percentile) }
    }
    /// The same, with one thing measured.
    pub fn with(mut self, part: Part, millimetres: f64) -> Body {
        self.measured.insert(part, Q::new(millimetres, &MM));
        self
    }
}

/// Stripes that are to meet at the seams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stripe {
    #[default]
    None,
    /// Not the same from both sides, like three colours in turn.
    Uneven,
    /// The same from both sides, so that they mirror themselves.
    Even,
}

/// Which stripes are to meet at the seams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stripes {
    /// Those that run along the cloth, from the warp.
    pub along_cloth: Stripe,
    /// Those that run across it, from the weft.
    pub across_cloth: Stripe,
}

/// Everything asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    pub kind: Kind,
    /// How many of the article.
    pub how_many: u32,
    pub body: Body,
    pub ease: EaseWish,
    /// Of a top: nape to hem.
    pub length: Option<Q<Length>>,
    pub sleeve: SleeveWish,
    pub neck: NeckWish,
    pub sew: SewWish,
    /// Side of the square underarm gusset of a straight top.
    pub gusset: Option<Q<Length>>,
    /// Length of the slit down the front; `None`: as long as the head needs.
    pub slit: Option<Q<Length>>,
    /// Width of the facing round the neck.
    pub facing: Option<Q<Length>>,
    /// Girth of a shaped sleeve at its finished edge.
    pub cuff: Option<Q<Length>>,
    /// Fringe at each end of a scarf or towel, beyond its finished length; `None`: hemmed.
    pub fringe: Option<Q<Length>>,
    pub finished: Option<Finished>,
    pub handles: HandleWish,
    pub lining: bool,
    /// Pocket on an apron.
    pub pocket: bool,
    /// What the cloth still shrinks after it was washed before cutting: 0 to 10 %.
    pub residual_shrink: Q<Ratio>,
    /// Right way up only: nap, or a pattern with a top.
    pub one_way: bool,
    pub stripes: Stripes,
    pub pieces: Vec<FreePiece>,
    pub print: Option<PrintWish>,
    /// Words in inches.
    pub inches: bool,
}

impl Wish {
    /// A wish with everything left open.
    pub fn of(kind: Kind) -> Wish {
        Wish {
            kind,
            how_many: 1,
            body: Body::default(),
            ease: EaseWish::default(),
            length: None,
            sleeve: SleeveWish::default(),
            neck: NeckWish::default(),
            sew: SewWish::default(),
            gusset: None,
            slit: None,
            facing: None,
            cuff: None,
            fringe: None,
            finished: None,
            handles: HandleWish::default(),
            lining: false,
            pocket: false,
            residual_shrink: Q::new(0.0, &PERCENT),
            one_way: false,
            stripes: Stripes::default(),
            pieces: Vec::new(),
            print: None,
            inches: false,
        }
    }
}
