//! The one table of looks: what each [`Line`], [`Fill`] and [`Type`] role weighs, how it is dashed and coloured on warm paper,
//! on a dark screen and in print, its CSS class and its DXF layer. Exporters read it; composers never name a colour.
//! Lines differ by weight and dash, fills by lightness, so that a photocopy still tells them apart.

use crate::draw::sheet::{Fill, Line, Type};

/// The ground a drawing is seen on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Warm off-white paper on a screen.
    Light,
    /// A dark screen.
    Dark,
    /// White paper from a printer: the inks of `Light`, no ground.
    Print,
}

/// A colour as red, green, blue.
pub type Rgb = (u8, u8, u8);

/// A colour of the palette, named after what it stands for on the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    Paper,
    Ink,
    Quiet,
    Faint,
    Madder,
    Woad,
    Weld,
    Ochre,
    Part,
    OtherPart,
    Good,
    Watch,
    Bad,
    Fibre,
    Yarn,
    Cloth,
    Loss,
}

impl Ink {
    /// Every colour there is.
    pub const ALL: [Ink; 17] = [
        Ink::Paper,
        Ink::Ink,
        Ink::Quiet,
        Ink::Faint,
        Ink::Madder,
        Ink::Woad,
        Ink::Weld,
        Ink::Ochre,
        Ink::Part,
        Ink::OtherPart,
        Ink::Good,
        Ink::Watch,
        Ink::Bad,
        Ink::Fibre,
        Ink::Yarn,
        Ink::Cloth,
        Ink::Loss,
    ];

    /// (name of the CSS custom property, on light, on dark).
    fn row(self) -> (&'static str, u32, u32) {
        match self {
            Ink::Paper => ("paper", 0xFB_F8_F1, 0x16_1F_2B),
            Ink::Ink => ("ink", 0x1B_2B_44, 0xE9_E4_D8),
            Ink::Quiet => ("quiet", 0x4F_5B_71, 0xA7_B1_C0),
            Ink::Faint => ("faint", 0xD8_D3_C6, 0x33_40_51),
            Ink::Madder => ("madder", 0xA6_30_2B, 0xF2_8B_7D),
            Ink::Woad => ("woad", 0x2B_5F_8C, 0x7F_B8_E2),
            Ink::Weld => ("weld", 0xDD_B8_3F, 0xD9_B6_4A),
            Ink::Ochre => ("ochre", 0x83_62_0C, 0xE4_C6_62),
            Ink::Part => ("part", 0xF0_E9_D8, 0x26_32_42),
            Ink::OtherPart => ("other-part", 0xDD_E1_E3, 0x33_44_58),
            Ink::Good => ("good", 0xDB_E7_D3, 0x20_3A_33),
            Ink::Watch => ("watch", 0xF5_E4_AE, 0x4C_3E_19),
            Ink::Bad => ("bad", 0xF2_CF_C8, 0x4F_29_2A),
            Ink::Fibre => ("fibre", 0xE9_D3_8C, 0x8A_73_33),
            Ink::Yarn => ("yarn", 0x9F_BC_CC, 0x3F_6E_8E),
            Ink::Cloth => ("cloth", 0x5D_89_AE, 0x58_95_C2),
            Ink::Loss => ("loss", 0xDE_D8_CC, 0x3B_42_4C),
        }
    }

    /// The colour on that ground.
    pub fn rgb(self, look: Look) -> Rgb {
        let (_, light, dark) = self.row();
        let value = match (look, self) {
            (Look::Print, Ink::Paper) => 0xFF_FF_FF,
            (Look::Light | Look::Print, _) => light,
            (Look::Dark, _) => dark,
        };
        ((value >> 16) as u8, (value >> 8) as u8, value as u8)
    }

    /// Its CSS custom property, with the two dashes.
    pub fn property(self) -> String {
        format!("--cw-{}", self.row().0)
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Stroke {
    /// Millimetres on the paper.
    pub weight: f64,
    /// Dash and gap in turn, millimetres on the paper; empty for an unbroken line. A dash of 0 is a round dot.
    pub dash: &'static [f64],
    pub ink: Ink,
    /// CSS class.
    pub class: &'static str,
    /// DXF layer.
    pub layer: &'static str,
    /// DXF colour number (1 red, 5 blue, 7 black on white or white on black, 8 grey).
    pub number: u8,
    /// What a legend calls it.
    pub says: &'static str,
}

/// The look of a line.
pub fn stroke(line: Line) -> Stroke {
    let (weight, dash, ink, class, layer, number, says): (f64, &'static [f64], _, _, _, _, _) = match line {
        Line::Outline => (0.40, &[], Ink::Ink, "l-outline", "OUTLINE", 7, "edge"),
        Line::Detail => (0.20, &[], Ink::Ink, "l-detail", "DETAIL", 7, "lesser edge"),
        Line::Hidden => (0.22, &[1.6, 0.8], Ink::Ink, "l-hidden", "HIDDEN", 8, "edge behind"),
        Line::Centre => (0.16, &[5.0, 0.9, 0.9, 0.9], Ink::Quiet, "l-centre", "CENTRE", 4, "centre line"),
        Line::Cut => (0.60, &[], Ink::Madder, "l-cut", "CUT", 1, "cut here"),
        Line::Seam => (0.32, &[2.6, 1.2], Ink::Ink, "l-seam", "SEAM", 5, "sew here"),
        Line::Fold => (0.36, &[7.0, 1.1, 1.8, 1.1], Ink::Woad, "l-fold", "FOLD", 3, "on the fold"),
        Line::Grain => (0.30, &[], Ink::Quiet, "l-grain", "GRAIN", 6, "run of the warp"),
        Line::Notch => (0.50, &[], Ink::Ink, "l-notch", "NOTCH", 2, "notch"),
        Line::Selvedge => (0.85, &[4.0, 0.7], Ink::Woad, "l-selvedge", "SELVEDGE", 4, "the cloth's own edge"),
        Line::Dimension => (0.16, &[], Ink::Quiet, "l-dimension", "DIMENSION", 8, "measure"),
        Line::Axis => (0.22, &[], Ink::Ink, "l-axis", "AXIS", 7, "axis"),
        Line::Grid => (0.12, &[], Ink::Faint, "l-grid", "GRID", 9, "grid"),
        Line::Curve => (0.60, &[], Ink::Woad, "l-curve", "CURVE", 5, "curve"),
        Line::Second => (0.55, &[2.8, 1.1], Ink::Ochre, "l-second", "CURVE_2", 30, "second curve"),
        Line::Third => (0.75, &[0.0, 1.5], Ink::Quiet, "l-third", "CURVE_3", 8, "third curve"),
        Line::Doubt => (0.18, &[0.8, 0.8], Ink::Woad, "l-doubt", "DOUBT", 8, "bounds of a doubt"),
        Line::Ghost => (0.18, &[4.2, 0.7, 0.7, 0.7, 0.7, 0.7], Ink::Quiet, "l-ghost", "GHOST", 8, "other place"),
        Line::Hatch => (0.12, &[], Ink::Quiet, "l-hatch", "HATCH", 8, "cut face"),
        Line::Danger => (0.70, &[1.4, 0.7], Ink::Madder, "l-danger", "DANGER", 1, "can hurt"),
    };
    Stroke { weight, dash, ink, class, layer, number, says }
}

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    pub ink: Ink,
    /// 1 is solid.
    pub opacity: f64,
    /// CSS class.
    pub class: &'static str,
}

/// The look of a fill that has a name; a yarn's own colour ([`Fill::Rgb`]) has none.
pub fn tint(fill: Fill) -> Option<Tint> {
    let (ink, opacity, class) = match fill {
        Fill::Paper => (Ink::Paper, 1.0, "f-paper"),
        Fill::Part => (Ink::Part, 1.0, "f-part"),
        Fill::OtherPart => (Ink::OtherPart, 1.0, "f-other-part"),
        Fill::Warp => (Ink::Woad, 1.0, "f-warp"),
        Fill::Weft => (Ink::Weld, 1.0, "f-weft"),
        Fill::Doubt => (Ink::Woad, 0.16, "f-doubt"),
        Fill::Good => (Ink::Good, 1.0, "f-good"),
        Fill::Watch => (Ink::Watch, 1.0, "f-watch"),
        Fill::Bad => (Ink::Bad, 1.0, "f-bad"),
        Fill::Ink => (Ink::Ink, 1.0, "f-ink"),
        Fill::Quiet => (Ink::Quiet, 1.0, "f-quiet"),
        Fill::Curve => (Ink::Woad, 1.0, "f-curve"),
        Fill::Second => (Ink::Ochre, 1.0, "f-second"),
        Fill::Danger => (Ink::Madder, 1.0, "f-danger"),
        Fill::Fibre => (Ink::Fibre, 1.0, "f-fibre"),
        Fill::Yarn => (Ink::Yarn, 1.0, "f-yarn"),
        Fill::Cloth => (Ink::Cloth, 1.0, "f-cloth"),
        Fill::Loss => (Ink::Loss, 1.0, "f-loss"),
        Fill::Rgb(..) => return None,
    };
    Some(Tint { ink, opacity, class })
}

/// The three faces that sheets are set in; all of the DejaVu family, condensed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    Plain,
    Bold,
    /// With serifs, for titles and headings.
    Serif,
}

impl Face {
    /// Every face there is.
    pub const ALL: [Face; 3] = [Face::Plain, Face::Bold, Face::Serif];

    /// Family names, the wanted one first; the others are near in width.
    pub fn family(self) -> &'static str {
        match self {
            Face::Plain | Face::Bold => "'DejaVu Sans Condensed','DejaVu Sans','Liberation Sans',Arial,sans-serif",
            Face::Serif => "'DejaVu Serif Condensed','DejaVu Serif','Liberation Serif',Georgia,serif",
        }
    }
}

/// The `@font-face` rules for a page that serves the bytes of [`super::text::face_bytes`] itself, at the addresses `at` gives.
pub fn font_css(at: impl Fn(Face) -> String) -> String {
    let rule = |face: Face| {
        let family = face.family().split(',').next().unwrap_or_default();
        let weight = if face == Face::Bold { "bold" } else { "normal" };
        let at = at(face);
        format!(
            "@font-face{{font-family:{family};font-weight:{weight};font-stretch:semi-condensed;font-display:swap;\
             src:url({at}) format('truetype')}}\n"
        )
    };
    Face::ALL.into_iter().map(rule).collect()
}

/// How words look; their height is [`Type::size`].
#[derive(Clone, Copy, Debug)]
pub struct Letter {
    pub ink: Ink,
    pub face: Face,
    /// Millimetres of paper kept clear round each letter.
    pub rim: f64,
    /// CSS class.
    pub class: &'static str,
}

/// The look of words.
pub fn letter(kind: Type) -> Letter {
    let (ink, face, rim, class) = match kind {
        Type::Title => (Ink::Ink, Face::Serif, 0.0, "t-title"),
        Type::Heading => (Ink::Ink, Face::Serif, 0.0, "t-heading"),
        Type::Body => (Ink::Ink, Face::Plain, 0.0, "t-body"),
        Type::Strong => (Ink::Ink, Face::Bold, 0.0, "t-strong"),
        Type::Small => (Ink::Ink, Face::Plain, 0.0, "t-small"),
        Type::Label => (Ink::Ink, Face::Bold, 0.0, "t-label"),
        Type::Note => (Ink::Quiet, Face::Plain, 0.0, "t-note"),
        Type::Figure => (Ink::Ink, Face::Plain, 0.5, "t-figure"),
        Type::Caution => (Ink::Madder, Face::Bold, 0.0, "t-caution"),
    };
    Letter { ink, face, rim, class }
}

/// The contrast of two colours by the Web Content Accessibility Guidelines 2.2 ("contrast ratio"), 1 to 21.
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance by the same guidelines, 0 to 1.
pub fn luminance((r, g, b): Rgb) -> f64 {
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
    };
    0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
}

/// A colour as CSS writes it.
pub fn hex((r, g, b): Rgb) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// The style block of a stand-alone drawing: plain colours, no custom properties, which readers other than browsers lack.
pub fn sheet_css(look: Look) -> String {
    rules("", |ink| hex(ink.rgb(look)))
}

/// The style of every inline drawing of a page: custom properties with their dark values (by the reader's preference, or by
/// `data-theme` on the root element), then the rules, all below the class `cw` that [`super::svg::inline`] sets.
pub fn page_css() -> String {
    let values =
        |look: Look| -> String { Ink::ALL.iter().map(|i| format!("{}:{};", i.property(), hex(i.rgb(look)))).collect() };
    let (light, dark, print) = (values(Look::Light), values(Look::Dark), values(Look::Print));
    let rules = rules(".cw ", |ink| format!("var({})", ink.property()));
    format!(
        ":root{{{light}}}\n@media (prefers-color-scheme:dark){{:root{{{dark}}}}}\n:root[data-theme=light]{{{light}}}\n\
         :root[data-theme=dark]{{{dark}}}\n@media print{{:root,:root[data-theme]{{{print}}}}}\n\
         .cw{{display:block;max-width:100%;height:auto}}\n{rules}"
    )
}

/// One rule a role, `before` each selector, colours written by `colour`.
fn rules(before: &str, colour: impl Fn(Ink) -> String) -> String {
    let family = Face::Plain.family();
    let mut css = format!(
        "{before}path{{stroke-linejoin:round}}\n{before}text{{font-family:{family};font-stretch:semi-condensed}}\n"
    );
    for line in Line::ALL {
        let s = stroke(line);
        css += &format!("{before}.{}{{stroke:{};stroke-width:{}", s.class, colour(s.ink), s.weight);
        if !s.dash.is_empty() {
            let dash: Vec<String> = s.dash.iter().map(f64::to_string).collect();
            css += &format!(";stroke-dasharray:{}", dash.join(" "));
        }
        if s.dash.first() == Some(&0.0) {
            css += ";stroke-linecap:round";
        }
        css += "}\n";
    }
    for tint in Fill::ALL.into_iter().filter_map(tint) {
        css += &format!("{before}.{}{{fill:{}", tint.class, colour(tint.ink));
        if tint.opacity < 1.0 {
            css += &format!(";fill-opacity:{}", tint.opacity);
        }
        css += "}\n";
    }
    for kind in Type::ALL {
        let l = letter(kind);
        css += &format!("{before}.{}{{fill:{};font-size:{}px", l.class, colour(l.ink), kind.size());
        match l.face {
            Face::Plain => {}
            Face::Bold => css += ";font-weight:bold",
            Face::Serif => css += &format!(";font-family:{}", Face::Serif.family()),
        }
        if l.rim > 0.0 {
            let (rim, paper) = (2.0 * l.rim, colour(Ink::Paper));
            css += &format!(";stroke:{paper};stroke-width:{rim};stroke-linejoin:round;paint-order:stroke");
        }
        css += "}\n";
    }
    css
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Identity: no two roles share a class or, for lines, a layer; a cut and a seam differ by more than colour.
    #[test]
    fn every_role_has_a_look_of_its_own() {
        let mut classes = BTreeSet::new();
        let mut layers = BTreeSet::new();
        for line in Line::ALL {
            let s = stroke(line);
            assert!(s.weight > 0.1 && s.weight < 1.0 && (1..=255).contains(&s.number), "{line:?}");
            assert!(s.dash.len().is_multiple_of(2) && s.dash.iter().all(|d| *d >= 0.0), "{line:?}");
            assert!(classes.insert(s.class), "{line:?} shares a class");
            assert!(layers.insert(s.layer), "{line:?} shares a layer");
            assert!(s.layer.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_'));
        }
        for fill in Fill::ALL {
            assert!(classes.insert(tint(fill).expect("a named fill has a tint").class), "{fill:?} shares a class");
        }
        for kind in Type::ALL {
            assert!(classes.insert(letter(kind).class), "{kind:?} shares a class");
        }
        let (cut, seam) = (stroke(Line::Cut), stroke(Line::Seam));
        assert!(cut.dash.is_empty() && !seam.dash.is_empty() && cut.weight > 1.5 * seam.weight);
    }

    /// WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for words, on the ground and on every pale fill that words may lie on;
    /// 1.4.11: 3 to 1 for lines that carry meaning. Red words stand on paper only: a caution fills its own box with it.
    #[test]
    fn words_and_lines_stand_out_from_their_ground() {
        let grounds = [Ink::Paper, Ink::Part, Ink::OtherPart, Ink::Good, Ink::Watch, Ink::Bad];
        for look in [Look::Light, Look::Dark, Look::Print] {
            for kind in Type::ALL {
                for ground in grounds {
                    if letter(kind).ink == Ink::Madder && ground != Ink::Paper {
                        continue;
                    }
                    let c = contrast(letter(kind).ink.rgb(look), ground.rgb(look));
                    assert!(c >= 4.5, "{kind:?} on {ground:?} {look:?}: {c:.2}");
                }
            }
            for line in Line::ALL.into_iter().filter(|l| *l != Line::Grid) {
                let c = contrast(stroke(line).ink.rgb(look), Ink::Paper.rgb(look));
                assert!(c >= 3.0, "{line:?} {look:?}: {c:.2}");
            }
        }
    }

    /// Published: the guidelines give 21 for black on white; #777777 on white is 4.48, the best known near miss.
    #[test]
    fn contrast_is_the_published_one() {
        assert!((contrast((0, 0, 0), (255, 255, 255)) - 21.0).abs() < 1e-9);
        assert!((contrast((0x77, 0x77, 0x77), (255, 255, 255)) - 4.48).abs() < 0.005);
    }

    /// In a photocopy only lightness is left: warp and weft symbols, and the three verdicts, still differ.
    #[test]
    fn a_photocopy_tells_warp_from_weft() {
        let l = |ink: Ink| luminance(ink.rgb(Look::Print));
        assert!(contrast(Ink::Woad.rgb(Look::Print), Ink::Weld.rgb(Look::Print)) > 3.0);
        assert!(l(Ink::Fibre) > l(Ink::Yarn) + 0.1 && l(Ink::Yarn) > l(Ink::Cloth) + 0.1);
    }
}
