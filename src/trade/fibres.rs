//! Fibres: what a plan may say for `fibre.kind`, and what the trade knows of each. A row is a middle and a usual range with its source;
//! a maker's own measurement replaces it.

use super::{Fact, Line, fact};
use crate::formulas::registry::Evidence::{Derived, Memory, Practice, Published};
use crate::units::*;

/// Where a fibre grows; decides which steps clean and prepare it, and which losses a plan may state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plant {
    /// Ginned and carded.
    Cotton,
    /// Scoured and combed or carded.
    Wool,
    /// Scutched and hackled.
    Flax,
}

/// How a strand is drafted; decides how close the fibres lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drafting {
    /// Short draw from aligned fibre, dense: ring-like cotton, worsted wool, wet linen.
    Close,
    /// Long draw from carded fibre, airy.
    Open,
}

/// A fibre and its facts.
pub struct Fibre {
    /// As the plan names it.
    pub name: &'static str,
    pub plant: Plant,
    pub density: Fact<Density>,
    /// Fineness: micronaire for cotton, diameter for wool, linear density for flax.
    pub fineness: Fineness,
    pub length: Fact<Length>,
    pub tenacity: Fact<Tenacity>,
    /// Stretch at which one fibre breaks; a yarn of it breaks at [`Fibre::yarn_extension`].
    pub extension: Fact<Ratio>,
    pub yarn_extension: Fact<Ratio>,
    /// Water over dry mass at which the trade invoices it.
    pub regain: Fact<Ratio>,
    /// Constant of the least unevenness; flax, whose strands split, has none.
    pub limit: Option<Fact<Ratio>>,
    pub realised: Fact<Ratio>,
    pub hand_share: Fact<Ratio>,
    pub packing_close: Fact<Ratio>,
    pub packing_open: Fact<Ratio>,
    pub fewest_fibres: Fact<Number>,
    pub warp_multiplier: Twist,
    pub weft_multiplier: Twist,
    pub cleaning_keeps: Fact<Ratio>,
    pub preparing_keeps: Fact<Ratio>,
    pub spinning_keeps: Fact<Ratio>,
    pub finishing_keeps: Fact<Ratio>,
    pub shrink_width: Fact<Ratio>,
    pub shrink_length: Fact<Ratio>,
    pub cleaning_pace: Fact<MassRate>,
    pub preparing_pace: Fact<MassRate>,
}

/// How a fibre's fineness is measured.
pub enum Fineness {
    Micronaire(Fact<Micronaire>),
    Diameter(Fact<Length>),
    Count(Fact<LinearDensity>),
}

/// A usual twist, as the trade states it for the fibre.
pub enum Twist {
    /// By staple class, short, medium and long, in multipliers.
    ByStaple([Fact<TwistFactor>; 3]),
    One(Fact<TwistFactor>),
}

impl Twist {
    /// Its facts, one or one a staple class.
    pub fn all(&self) -> impl Iterator<Item = &Fact<TwistFactor>> {
        match self {
            Twist::One(fact) => std::slice::from_ref(fact).iter(),
            Twist::ByStaple(classes) => classes.iter(),
        }
    }
    /// The usual multiplier for a staple. Classes: short to 25.4 mm, long from 29 mm.
    pub fn at(&self, staple: Q<Length>) -> &Fact<TwistFactor> {
        match self {
            Twist::One(fact) => fact,
            Twist::ByStaple(classes) => &classes[staple_class(staple)],
        }
    }
}

/// 0 short, 1 medium, 2 long (common classes of cotton; short is up to an inch, long from 1.14 in).
pub fn staple_class(staple: Q<Length>) -> usize {
    match staple.get(&MM) {
        mm if mm <= 25.4 => 0,
        mm if mm < 29.0 => 1,
        _ => 2,
    }
}

/// Twist of cotton warp, Klein's table.
const COTTON_WARP: [Fact<TwistFactor>; 3] = [
    fact(4.5, 4.0, 5.0, &TM, Published, "klein-manual", "p. 65, warp, short staple"),
    fact(4.15, 3.8, 4.5, &TM, Published, "klein-manual", "p. 65, warp, medium staple"),
    fact(3.65, 3.4, 3.9, &TM, Published, "klein-manual", "p. 65, warp, long staple"),
];
/// Twist of cotton weft, the same table.
const COTTON_WEFT: [Fact<TwistFactor>; 3] = [
    fact(3.55, 3.3, 3.8, &TM, Published, "klein-manual", "p. 65, weft, short staple"),
    fact(3.25, 3.0, 3.5, &TM, Published, "klein-manual", "p. 65, weft, medium staple"),
    fact(2.75, 2.5, 3.0, &TM, Published, "klein-manual", "p. 65, weft, long staple"),
];

const fn cotton(
    name: &'static str,
    fineness: Fact<Micronaire>,
    length: Fact<Length>,
    tenacity: Fact<Tenacity>,
    extension: Fact<Ratio>,
    realised: Fact<Ratio>,
    ginning: Fact<Ratio>,
) -> Fibre {
    Fibre {
        name,
        plant: Plant::Cotton,
        density: fact(1.52, 1.52, 1.52, &G_CM3, Published, "morton-hearle", "Table 5.1, 65 % humidity"),
        fineness: Fineness::Micronaire(fineness),
        length,
        tenacity,
        extension,
        yarn_extension: fact(6.5, 5.6, 8.0, &PERCENT, Published, "hpttf", "Table 7.3, ring carded elongation"),
        regain: fact(8.5, 7.0, 8.5, &PERCENT, Published, "astm-d1909", "cotton; 7.0 in older editions"),
        limit: Some(fact(106.0, 106.0, 106.0, &ONE, Published, "gate", "2006 Q43 (Martindale 1945)")),
        realised,
        hand_share: fact(
            60.0,
            50.0,
            70.0,
            &PERCENT,
            Derived,
            "chattopadhyay",
            "khadi norms over the mill mean of hpttf Table 7.2",
        ),
        packing_close: fact(0.60, 0.55, 0.65, &ONE, Published, "iit-numerical", "Q2; gate 2008 Q71 gives 0.65"),
        packing_open: fact(0.50, 0.44, 0.56, &ONE, Practice, "practice", "long draw lies looser; no published figure"),
        fewest_fibres: fact(75.0, 60.0, 90.0, &EACH, Published, "klein-manual", "ring carded"),
        warp_multiplier: Twist::ByStaple(COTTON_WARP),
        weft_multiplier: Twist::ByStaple(COTTON_WEFT),
        cleaning_keeps: ginning,
        preparing_keeps: fact(
            85.0,
            80.0,
            90.0,
            &PERCENT,
            Derived,
            "sheikh-yield",
            "carding chain; hand cards lose more or less with care",
        ),
        spinning_keeps: fact(93.0, 88.0, 97.0, &PERCENT, Practice, "practice", "spinning waste of a practised hand"),
        finishing_keeps: fact(94.0, 92.0, 96.0, &PERCENT, Practice, "practice", "raw cotton boiled"),
        shrink_width: fact(8.0, 5.0, 12.0, &PERCENT, Memory, "practice", "wet finish of cotton, first wash"),
        shrink_length: fact(8.0, 5.0, 12.0, &PERCENT, Memory, "practice", "wet finish of cotton, first wash"),
        cleaning_pace: fact(
            100.0,
            35.0,
            260.0,
            &G_H,
            Practice,
            "practice",
            "fingers 8-24, a rod 320, a home-built gin 160-500 g of lint",
        ),
        preparing_pace: fact(75.0, 45.0, 130.0, &G_H, Practice, "practice", "hand cards; no timed figure found"),
    }
}

const fn wool(
    name: &'static str,
    diameter: Fact<Length>,
    length: Fact<Length>,
    tenacity: Fact<Tenacity>,
    extension: Fact<Ratio>,
    scouring: Fact<Ratio>,
) -> Fibre {
    Fibre {
        name,
        plant: Plant::Wool,
        density: fact(1.31, 1.31, 1.31, &G_CM3, Published, "morton-hearle", "Table 5.1, 65 % humidity"),
        fineness: Fineness::Diameter(diameter),
        length,
        tenacity,
        extension,
        yarn_extension: fact(15.0, 10.0, 25.0, &PERCENT, Memory, "practice", "worsted and woollen yarn"),
        regain: fact(13.6, 13.0, 18.25, &PERCENT, Published, "astm-d1909", "wool; yarn trades from 13 to 18.25"),
        limit: Some(fact(112.0, 112.0, 112.0, &ONE, Memory, "martindale-1945", "wool")),
        realised: fact(50.0, 42.0, 58.0, &PERCENT, Memory, "practice", "worsted yarn near 6 cN/tex"),
        hand_share: fact(75.0, 60.0, 90.0, &PERCENT, Memory, "practice", "long fibre forgives; no norm found"),
        packing_close: fact(
            0.60,
            0.56,
            0.64,
            &ONE,
            Derived,
            "practice",
            "worsted, 1.2 to 1.3 cm3/g from memory over the density",
        ),
        packing_open: fact(
            0.51,
            0.47,
            0.55,
            &ONE,
            Derived,
            "practice",
            "woollen, 1.4 to 1.6 cm3/g from memory over the density",
        ),
        fewest_fibres: fact(25.0, 20.0, 30.0, &EACH, Published, "gansey", "2014/09, spin count near 20"),
        warp_multiplier: Twist::One(fact(26.0, 23.0, 30.0, &ALPHA_TEX, Memory, "practice", "weaving singles, worsted")),
        weft_multiplier: Twist::One(fact(23.0, 20.0, 26.0, &ALPHA_TEX, Memory, "practice", "weft singles")),
        cleaning_keeps: scouring,
        preparing_keeps: fact(87.0, 80.0, 92.0, &PERCENT, Practice, "practice", "combed top from washed fleece"),
        spinning_keeps: fact(96.0, 92.0, 98.0, &PERCENT, Practice, "practice", "spinning waste"),
        finishing_keeps: fact(99.0, 98.0, 100.0, &PERCENT, Practice, "practice", "scoured wool washed again"),
        shrink_width: fact(12.0, 8.0, 20.0, &PERCENT, Memory, "practice", "wet finish of wool, not fulled"),
        shrink_length: fact(10.0, 6.0, 16.0, &PERCENT, Memory, "practice", "wet finish of wool, not fulled"),
        cleaning_pace: fact(260.0, 180.0, 400.0, &G_H, Practice, "practice", "an hour's work a pound of fleece"),
        preparing_pace: fact(170.0, 100.0, 220.0, &G_H, Practice, "practice", "drum carder, 150-200 g a person-hour"),
    }
}

const fn flax(
    name: &'static str,
    length: Fact<Length>,
    realised: Fact<Ratio>,
    preparing: Fact<Ratio>,
    packing_close: Fact<Ratio>,
) -> Fibre {
    Fibre {
        name,
        plant: Plant::Flax,
        density: fact(1.50, 1.40, 1.54, &G_CM3, Memory, "morton-hearle", "books give 1.40 to 1.54"),
        fineness: Fineness::Count(fact(
            1600.0,
            800.0,
            3000.0,
            &MTEX,
            Memory,
            "practice",
            "hackled strands, which split further in wet spinning",
        )),
        length,
        tenacity: fact(54.0, 45.0, 60.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, flax"),
        extension: fact(3.0, 2.5, 3.3, &PERCENT, Published, "morton-hearle", "Table 13.1, flax 3.0 %"),
        regain: fact(12.0, 8.75, 12.0, &PERCENT, Published, "astm-d1909", "flax; 8.75 in older editions"),
        yarn_extension: fact(
            2.5,
            2.0,
            3.0,
            &PERCENT,
            Derived,
            "morton-hearle",
            "Table 13.1, the fibre breaks at 3.0 %",
        ),
        limit: None,
        realised,
        hand_share: fact(70.0, 55.0, 85.0, &PERCENT, Memory, "practice", "no norm found"),
        packing_close,
        packing_open: fact(0.52, 0.46, 0.58, &ONE, Memory, "practice", "dry-spun tow"),
        fewest_fibres: fact(12.0, 8.0, 20.0, &EACH, Memory, "practice", "strands, not single cells"),
        warp_multiplier: Twist::One(fact(27.0, 24.0, 30.0, &ALPHA_TEX, Memory, "practice", "wet-spun linen warp")),
        weft_multiplier: Twist::One(fact(24.0, 21.0, 27.0, &ALPHA_TEX, Memory, "practice", "linen weft")),
        cleaning_keeps: fact(
            16.0,
            12.0,
            19.0,
            &PERCENT,
            Practice,
            "practice",
            "scutched flax from retted straw; one measured plot gave 17",
        ),
        preparing_keeps: preparing,
        spinning_keeps: fact(95.0, 90.0, 98.0, &PERCENT, Practice, "practice", "spinning waste"),
        finishing_keeps: fact(85.0, 80.0, 90.0, &PERCENT, Practice, "practice", "linen boiled"),
        shrink_width: fact(7.0, 5.0, 10.0, &PERCENT, Memory, "practice", "wet finish of linen"),
        shrink_length: fact(7.0, 5.0, 10.0, &PERCENT, Memory, "practice", "wet finish of linen"),
        cleaning_pace: fact(
            400.0,
            150.0,
            700.0,
            &G_H,
            Practice,
            "practice",
            "a day for a kilogram of line and one of tow, hackling included",
        ),
        preparing_pace: fact(300.0, 120.0, 500.0, &G_H, Practice, "practice", "the other half of that day"),
    }
}

/// All fibres a plan may name.
pub static ALL: &[Fibre] = &[
    cotton(
        "upland cotton",
        fact(4.3, 4.0, 4.9, &MIC, Published, "klein-manual", "specification of fineness, medium 4.0 to 4.9"),
        fact(
            27.0,
            25.4,
            29.0,
            &MM,
            Published,
            "definetextile",
            "medium staple, between short (1 in) and long (1.16 in)",
        ),
        fact(32.0, 28.0, 36.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, Uppers"),
        fact(7.1, 6.0, 8.0, &PERCENT, Published, "morton-hearle", "Table 13.1, Uppers 7.1 %"),
        fact(53.0, 46.0, 60.0, &PERCENT, Derived, "hpttf", "Table 7.3, 17 cN/tex, over morton-hearle 32"),
        fact(35.0, 30.0, 40.0, &PERCENT, Published, "msu-bolls", "lint 35 %; modern 35 to 42"),
    ),
    cotton(
        "sea island cotton",
        fact(3.3, 2.8, 3.8, &MIC, Published, "klein-manual", "specification of fineness, fine"),
        fact(36.0, 33.0, 40.0, &MM, Published, "chattopadhyay", "finest charkha counts"),
        fact(45.0, 40.0, 50.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, St Vincent"),
        fact(6.8, 6.0, 7.5, &PERCENT, Published, "morton-hearle", "Table 13.1, St Vincent 6.8 %"),
        fact(53.0, 46.0, 60.0, &PERCENT, Derived, "hpttf", "as upland: no figure of its own"),
        fact(25.0, 22.0, 28.0, &PERCENT, Published, "britannica-1911", "Sea Island 25 %"),
    ),
    cotton(
        "brown cotton",
        fact(4.8, 4.0, 5.6, &MIC, Memory, "practice", "coarser than upland"),
        fact(22.0, 18.0, 25.0, &MM, Memory, "practice", "short staple"),
        fact(22.0, 18.0, 28.0, &CN_TEX, Memory, "practice", "weaker than upland, above Bengals at 19"),
        fact(6.0, 5.6, 7.1, &PERCENT, Memory, "morton-hearle", "between Bengals 5.6 and Uppers 7.1 of Table 13.1"),
        fact(53.0, 46.0, 60.0, &PERCENT, Derived, "hpttf", "as upland: no figure of its own"),
        fact(25.0, 20.0, 30.0, &PERCENT, Practice, "practice", "naturally coloured, home grown"),
    ),
    wool(
        "fine wool",
        fact(19.0, 17.0, 22.0, &UM, Memory, "practice", "merino"),
        fact(75.0, 60.0, 95.0, &MM, Memory, "practice", "merino staple"),
        fact(11.0, 10.0, 13.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, wool 64s"),
        fact(42.5, 30.0, 45.0, &PERCENT, Published, "morton-hearle", "Table 13.1, wool 64s 42.5 %"),
        fact(50.0, 42.0, 57.0, &PERCENT, Published, "asi-breeds", "Merino and Rambouillet 45 to 55"),
    ),
    wool(
        "medium wool",
        fact(27.0, 23.0, 31.0, &UM, Memory, "practice", "down and crossbred wools"),
        fact(95.0, 70.0, 130.0, &MM, Memory, "practice", "medium staple"),
        fact(14.0, 12.0, 15.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, wool 56s"),
        fact(42.9, 30.0, 45.0, &PERCENT, Published, "morton-hearle", "Table 13.1, wool 56s 42.9 %"),
        fact(57.0, 50.0, 65.0, &PERCENT, Published, "asi-breeds", "Southdown 55 to 65"),
    ),
    wool(
        "coarse wool",
        fact(34.0, 30.0, 40.0, &UM, Memory, "practice", "long-wools"),
        fact(130.0, 90.0, 200.0, &MM, Memory, "practice", "long staple"),
        fact(12.0, 11.0, 13.0, &CN_TEX, Published, "morton-hearle", "Table 13.1, wool 36s"),
        fact(29.8, 25.0, 35.0, &PERCENT, Published, "morton-hearle", "Table 13.1, wool 36s 29.8 %"),
        fact(64.0, 55.0, 70.0, &PERCENT, Published, "asi-breeds", "Coopworth and Awassi 60 to 70"),
    ),
    flax(
        "flax line",
        fact(500.0, 300.0, 700.0, &MM, Memory, "practice", "hackled line"),
        fact(45.0, 38.0, 52.0, &PERCENT, Memory, "practice", "wet-spun linen near 24 cN/tex"),
        fact(50.0, 42.0, 62.0, &PERCENT, Practice, "practice", "line hackled from scutched; one measured plot gave 47"),
        fact(0.67, 0.60, 0.72, &ONE, Derived, "practice", "wet linen, 1.0 cm3/g from memory over the density"),
    ),
    flax(
        "flax tow",
        fact(100.0, 50.0, 200.0, &MM, Memory, "practice", "carded tow"),
        fact(30.0, 22.0, 38.0, &PERCENT, Memory, "practice", "dry-spun tow yarn"),
        fact(45.0, 35.0, 55.0, &PERCENT, Practice, "practice", "tow left by hackling; one measured plot gave 53"),
        fact(0.60, 0.54, 0.66, &ONE, Memory, "practice", "damp-spun tow"),
    ),
];

impl Fibre {
    /// Everything the row states, each with what it is, for tables and for the check that nothing stands without a source.
    pub fn facts(&self) -> Vec<Line> {
        let mut lines = vec![
            self.density.line("density at 65 % humidity"),
            match &self.fineness {
                Fineness::Micronaire(fact) => fact.line("fineness"),
                Fineness::Diameter(fact) => fact.line("diameter"),
                Fineness::Count(fact) => fact.line("fineness of a strand"),
            },
            self.length.line("staple length"),
            self.tenacity.line("strength of a fibre"),
            self.extension.line("stretch of a fibre at its break"),
            self.yarn_extension.line("stretch of a yarn at its break"),
            self.regain.line("moisture it is invoiced at"),
            self.realised.line("share of the fibres' strength in a mill's yarn"),
            self.hand_share.line("share of a mill's strength in a hand's yarn"),
            self.packing_close.line("fibre in the yarn's section, short draw"),
            self.packing_open.line("fibre in the yarn's section, long draw"),
            self.fewest_fibres.line("fewest fibres in a section"),
        ];
        lines.extend(self.limit.iter().map(|fact| fact.line("constant of the least unevenness")));
        lines.extend(self.warp_multiplier.all().map(|fact| fact.line("twist of warp")));
        lines.extend(self.weft_multiplier.all().map(|fact| fact.line("twist of weft")));
        lines.extend([
            self.cleaning_keeps.line(self.plant.steps()[0]),
            self.preparing_keeps.line(self.plant.steps()[1]),
            self.spinning_keeps.line(self.plant.steps()[2]),
            self.finishing_keeps.line("what a first boil leaves of the cloth"),
            self.shrink_width.line("shrinkage in width, first wash"),
            self.shrink_length.line("shrinkage in length, first wash"),
            self.cleaning_pace.line("pace of the first step"),
            self.preparing_pace.line("pace of the second step"),
        ]);
        lines
    }
}

impl Plant {
    /// The steps from harvest to yarn that lose fibre, in the words of the trade.
    pub fn steps(self) -> [&'static str; 3] {
        match self {
            Plant::Cotton => ["kept by ginning", "kept by carding", "kept by spinning"],
            Plant::Wool => ["kept by scouring", "kept by combing or carding", "kept by spinning"],
            Plant::Flax => ["kept by breaking and scutching", "kept by hackling", "kept by spinning"],
        }
    }
}

/// The fibre of that name.
pub fn find(name: &str) -> Option<&'static Fibre> {
    ALL.iter().find(|fibre| fibre.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn medium_cotton_warp_is_the_printed_middle() {
        let cotton = find("upland cotton").expect("a row");
        assert_eq!(cotton.warp_multiplier.at(Q::new(27.0, &MM)).middle, 4.15);
        assert_eq!(cotton.weft_multiplier.at(Q::new(36.0, &MM)).middle, 2.75);
    }

    #[test]
    fn names_are_unique_and_no_number_stands_without_its_source() {
        for (at, fibre) in ALL.iter().enumerate() {
            assert!(ALL[at + 1..].iter().all(|other| other.name != fibre.name));
            let facts = fibre.facts();
            assert!(facts.len() >= 20, "{}", fibre.name);
            for fact in facts {
                let told = format!("{}: {}", fibre.name, fact.says);
                assert!(fact.low <= fact.middle && fact.middle <= fact.high, "{told}");
                assert!(fact.low.is_finite() && fact.low > 0.0 && fact.high.is_finite(), "{told}");
                assert!(!fact.source.key.is_empty() && fact.source.at.len() > 3, "{told}: no source");
            }
        }
    }

    /// Cottons rank alike by length and by strength in Table 13.1; a row in the wrong place would break it.
    #[test]
    fn a_stronger_cotton_is_a_longer_one() {
        let [upland, island, brown] =
            ["upland cotton", "sea island cotton", "brown cotton"].map(|name| find(name).expect("a row"));
        assert!(island.tenacity.middle > upland.tenacity.middle && upland.tenacity.middle > brown.tenacity.middle);
        assert!(island.length.middle > upland.length.middle && upland.length.middle > brown.length.middle);
    }

    /// A yarn cannot stretch further than its fibres, nor be stronger.
    #[test]
    fn yarns_stay_below_their_fibres() {
        for fibre in ALL {
            assert!(fibre.yarn_extension.middle <= fibre.extension.high, "{}", fibre.name);
            assert!(fibre.realised.high < 100.0 && fibre.hand_share.high < 100.0, "{}", fibre.name);
        }
    }
}
