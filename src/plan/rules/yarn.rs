//! Rules of fibre, yarn and cloth.

use super::Rules;
use crate::units::{Kind, text::Strand};

/// What only one of the three fibres has.
const COTTON_ONLY: &[&str] = &[
    "fibre.on_hand.seed_cotton",
    "fibre.on_hand.lint",
    "fibre.losses.ginning_keeps",
    "fibre.yield.bolls_per_plant",
    "fibre.yield.boll_mass",
];
const WOOL_ONLY: &[&str] =
    &["fibre.on_hand.grease_wool", "fibre.on_hand.scoured_wool", "fibre.yield.fleece", "fibre.losses.combing_keeps"];
const FLAX_ONLY: &[&str] = &[
    "fibre.on_hand.retted_straw",
    "fibre.on_hand.line",
    "fibre.on_hand.tow",
    "fibre.losses.breaking_keeps",
    "fibre.losses.scutching_keeps",
    "fibre.losses.hackling_keeps",
    "fibre.yield.straw",
    "fibre.yield.seed",
];
/// Keys of a yarn, below its group.
const YARN_KEYS: &[&str] =
    &["count", "plies", "twist", "ply_twist", "direction", "preparation", "break_load", "strength_spread"];

impl Rules<'_> {
    pub(super) fn fibre(&mut self) {
        self.needs("fibre.kind", "what is to be spun decides nearly everything");
        let Some(kind) = self.plan.choice("fibre.kind") else { return };
        let (cotton, wool) = (kind.ends_with("cotton"), kind.ends_with("wool"));
        let others =
            [(cotton, COTTON_ONLY, "cotton"), (wool, WOOL_ONLY, "wool"), (!cotton && !wool, FLAX_ONLY, "flax")];
        for (_, keys, whose) in others.iter().filter(|(is_it, _, _)| !is_it) {
            for path in *keys {
                self.idle(path, &format!("it belongs to {whose}, and the fibre is {kind}"));
            }
        }
        let given = self.reading("fibre.fineness").map(|fineness| fineness.kind);
        let fault = match given {
            Some(Kind::Micronaire) if !cotton => {
                Some(("micronaire is measured on cotton only", if wool { "24 um" } else { "300 mtex" }))
            }
            Some(Kind::Length) if !wool => {
                Some(("only wool is round enough to go by its diameter", if cotton { "4.3 mic" } else { "300 mtex" }))
            }
            _ => None,
        };
        if let Some((why, near)) = fault {
            let found = self.at("fibre.fineness", "wrong-measure", why);
            self.say(found.help(format!("for {kind} write for example `fineness = \"{near}\"`")));
        }
    }

    pub(super) fn yarn(&mut self) {
        if self.plan.is_given("yarn.weft.same_as") {
            for name in YARN_KEYS {
                let path = format!("yarn.weft.{name}");
                if self.plan.is_given(&path) {
                    let message = format!("the weft is the same as the warp, and has a `{name}` of its own");
                    let found = self.at(&path, "either-or", message);
                    self.say(found.help("keep `same_as`, or give the weft all its own keys"));
                }
            }
        }
        for yarn in ["yarn.warp", "yarn.weft"] {
            self.plies(yarn);
        }
    }

    fn plies(&mut self, yarn: &str) {
        let [count, plies, ply_twist] = ["count", "plies", "ply_twist"].map(|name| format!("{yarn}.{name}"));
        let (named, given) = (self.plan.strand(&count).and_then(|(_, plies)| plies), self.plan.whole(&plies));
        if let (Some(named), Some(given)) = (named, given)
            && named != given
        {
            let typed = self.plan.typed(&count).unwrap_or("").to_string();
            let message = format!("`{typed}` has {}, and `plies` says {given}", plies_words(named));
            let found = self.at(&plies, "plies-disagree", message).near(Some(named.to_string()));
            self.say(found);
        }
        let single =
            self.plan.strand(&count).is_some_and(|(strand, plies)| strand == Strand::Single && plies == Some(1));
        if self.plan.is_given(&ply_twist) && (given.or(named).unwrap_or(1) == 1 || single) {
            self.idle(&ply_twist, "a single yarn has nothing to ply");
        }
    }

    pub(super) fn cloth(&mut self) {
        self.either("cloth.weave", "cloth.draft", "a weave is named or drafted");
        let set = |path: &str| self.reading(path).is_some();
        if set("cloth.sett") && set("cloth.firmness") && set("yarn.warp.count") {
            let mut found =
                self.at("cloth.firmness", "not-used", "`firmness` is not used: `sett` and the count already fix it");
            found.severity = crate::diag::Severity::Warning;
            self.say(found);
        }
        if let (Some(cloth), Some(heddle)) = (self.middle("cloth.sett"), self.middle("loom.heddle.sett")) {
            let heddles = f64::from(self.plan.whole("loom.heddle.heddles").unwrap_or(1));
            if (cloth / (heddle * heddles) - 1.0).abs() > 0.02 {
                let message = format!(
                    "the cloth asks for {} and the heddle has {}",
                    self.shown("cloth.sett"),
                    if heddles > 1.0 {
                        format!("{heddles} times {}", self.shown("loom.heddle.sett"))
                    } else {
                        self.shown("loom.heddle.sett")
                    }
                );
                let found = self.at("cloth.sett", "sett-disagrees", message);
                self.say(found.help("leave `cloth.sett` out: it follows from the heddle"));
            }
        }
    }
}

fn plies_words(plies: u32) -> String {
    if plies == 1 { String::from("1 ply") } else { format!("{plies} plies") }
}
