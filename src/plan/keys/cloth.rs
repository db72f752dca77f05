//! Rows from the fibre to the cloth.

use super::*;

/// Fibres the plan knows, by the trade's names.
pub const FIBRES: &[Word] = &[
    word("upland cotton", "the common cotton, staple about 25 to 30 mm"),
    word("sea island cotton", "long and fine, staple 35 mm and more"),
    word("brown cotton", "grown in colour, short and rather coarse"),
    word("fine wool", "fleeces below about 22 um"),
    word("medium wool", "fleeces of about 22 to 31 um"),
    word("coarse wool", "fleeces above about 31 um"),
    word("flax line", "long flax, hackled"),
    word("flax tow", "the short flax that hackling leaves"),
];

/// Rows of the plan itself.
pub fn head() -> Vec<Key> {
    vec![
        row("title", Takes::Text { longest: 120 }, "What you call it.", "the file's name", "\"Tern Bay print tee\""),
        row(
            "show",
            choice(&[word("metric", "millimetres, grams, tex"), word("inch", "inches, pounds, yards a pound")]),
            "The units the outcome is shown in; the plan itself may be written in either.",
            "metric",
            "\"metric\"",
        ),
        row(
            "money",
            Takes::Text { longest: 12 },
            "What the plan's prices are in.",
            "needed where a price stands",
            "\"EUR\"",
        ),
    ]
}

fn kilograms() -> Takes {
    of(Kind::Mass, "kg", 0.0, 1000.0)
}
fn keeps() -> Takes {
    share(1.0, 100.0)
}

/// `[fibre]`.
pub fn fibre() -> Vec<Key> {
    let fineness = any_of(vec![
        span(Kind::Micronaire, "mic", 1.5, 9.0),
        span(Kind::LinearDensity, "mtex", 40.0, 8000.0),
        span(Kind::Length, "um", 8.0, 80.0),
    ]);
    let mut rows = vec![
        row("fibre.kind", choice(FIBRES), "The fibre.", "the plan cannot be worked out", "\"upland cotton\""),
        row(
            "fibre.fineness",
            fineness,
            "How fine one fibre is: micronaire for cotton, diameter for wool, millitex for any.",
            "usual for the kind",
            "\"4.3 mic\"",
        ),
        row(
            "fibre.length",
            mm(5.0, 1500.0),
            "Mean length of the fibres (staple).",
            "usual for the kind",
            "\"27 ± 2 mm\"",
        ),
        row(
            "fibre.tenacity",
            of(Kind::Tenacity, "cN/tex", 2.0, 120.0),
            "How strong the fibre is.",
            "usual for the kind",
            "\"25 cN/tex\"",
        ),
    ];
    for (path, doc, example) in [
        ("fibre.on_hand.seed_cotton", "Cotton as picked, with its seeds.", "\"1.6 kg\""),
        ("fibre.on_hand.lint", "Cotton without its seeds.", "\"400 g\""),
        ("fibre.on_hand.grease_wool", "Wool as shorn.", "\"2.1 kg\""),
        ("fibre.on_hand.scoured_wool", "Wool washed and dry.", "\"900 g\""),
        ("fibre.on_hand.retted_straw", "Flax straw, retted and dry.", "\"6 kg\""),
        ("fibre.on_hand.line", "Hackled long flax.", "\"700 g\""),
        ("fibre.on_hand.tow", "Flax tow.", "\"500 g\""),
        ("fibre.on_hand.sliver", "Fibre prepared for the wheel: rolls, sliver or top.", "\"350 g\""),
        ("fibre.on_hand.yarn", "Yarn already spun for this cloth.", "\"60 g\""),
    ] {
        rows.push(row(path, kilograms(), doc, "none", example));
    }
    for (path, doc, example) in [
        ("fibre.losses.ginning_keeps", "Lint from seed cotton (the lint share).", "\"34 % (28..38)\""),
        ("fibre.losses.scouring_keeps", "Clean dry wool from wool as shorn.", "\"55 % (45..65)\""),
        ("fibre.losses.breaking_keeps", "What is left of retted straw after breaking.", "\"50 %\""),
        ("fibre.losses.scutching_keeps", "What is left of that after scutching.", "\"40 %\""),
        ("fibre.losses.hackling_keeps", "Long flax from scutched flax; the rest is tow.", "\"55 % (50..65)\""),
        ("fibre.losses.combing_keeps", "Top from scoured wool, where it is combed.", "\"87 %\""),
        ("fibre.losses.carding_keeps", "Rolls or sliver from clean fibre.", "\"85 %\""),
        ("fibre.losses.spinning_keeps", "Yarn from fibre prepared for the wheel.", "\"93 %\""),
        (
            "fibre.losses.finishing_keeps",
            "What is left of the cloth's mass after wax, gum or grease has been boiled or washed out.",
            "\"94 %\"",
        ),
    ] {
        rows.push(row(path, keeps(), doc, "usual for the kind, as a range", example));
    }
    rows.extend(crop());
    rows
}

fn crop() -> Vec<Key> {
    let usual = "usual, as a wide range";
    vec![
        row(
            "fibre.yield.bolls_per_plant",
            of(Kind::Number, "", 0.2, 200.0),
            "Ripe bolls on one cotton plant.",
            usual,
            "\"15 (8..25)\"",
        ),
        row(
            "fibre.yield.boll_mass",
            of(Kind::Mass, "g", 0.5, 15.0),
            "Seed cotton in one boll.",
            usual,
            "\"4.5 g (3..6)\"",
        ),
        row("fibre.yield.germination", share(1.0, 100.0), "Seeds that come up and live.", usual, "\"70 % (50..85)\""),
        row("fibre.yield.spacing", cm(2.0, 300.0).sure(), "From plant to plant in the row.", "30 cm", "\"30 cm\""),
        row("fibre.yield.row_spacing", cm(2.0, 400.0).sure(), "From row to row.", "75 cm", "\"75 cm\""),
        row(
            "fibre.yield.fleece",
            of(Kind::Mass, "kg", 0.2, 15.0),
            "Wool as shorn from one animal.",
            usual,
            "\"2.4 kg (1.8..3.2)\"",
        ),
        row(
            "fibre.yield.straw",
            of(Kind::AreaMass, "g/m2", 20.0, 3000.0),
            "Retted flax straw from an area.",
            usual,
            "\"450 g/m2 (300..600)\"",
        ),
        row(
            "fibre.yield.seed",
            of(Kind::AreaMass, "g/m2", 1.0, 100.0).sure(),
            "Flax seed sown on an area.",
            "13 g/m2",
            "\"13 g/m2\"",
        ),
    ]
}

const HANDS: &[Word] = &[
    word("Z", "the fibres slope as the middle of the letter Z"),
    word("S", "the fibres slope as the middle of the letter S"),
];
const PREPARATIONS: &[Word] = &[
    word("ring", "drawn fine and smooth before the twist, as mill cotton"),
    word("long draw", "cotton drawn out against the twist: airy"),
    word("worsted", "combed wool, fibres straight: smooth"),
    word("woollen", "carded wool, fibres all ways: airy"),
    word("wet", "flax spun with wet fingers: smooth and close"),
];

/// The same row for both yarns.
fn both(warp: &'static str, weft: &'static str, make: impl Fn(&'static str) -> Key) -> [Key; 2] {
    [make(warp), make(weft)]
}

/// `[yarn.warp]`, `[yarn.weft]`, `[warp]`.
pub fn yarn() -> Vec<Key> {
    let twist =
        || any_of(vec![span(Kind::PerLength, "/m", 10.0, 5000.0), span(Kind::TwistFactor, "TM", 0.3, 12.0)]).auto();
    let mut rows = vec![row(
        "yarn.weft.same_as",
        choice(&[word("warp", "one yarn for both")]),
        "The weft is the same yarn as the warp.",
        "the weft is the warp's yarn if it has no keys of its own",
        "\"warp\"",
    )];
    rows.extend(both("yarn.warp.count", "yarn.weft.count", |path| {
        row(
            path,
            of(Kind::LinearDensity, "tex", 1.0, 5000.0).auto(),
            "How fine the yarn is. `20/2 Ne` and `20 tex x2` give the single, `R 40 tex` and a bare count the yarn as woven.",
            "decided from heddle, firmness and mass",
            "\"30 tex\"",
        )
    }));
    rows.extend(both("yarn.warp.plies", "yarn.weft.plies", |path| {
        row(path, whole(1, 12), "Singles twisted together.", "1, or what the count says", "2")
    }));
    rows.extend(both("yarn.warp.twist", "yarn.weft.twist", |path| {
        row(
            path,
            twist(),
            "Twist of the singles as spun: turns per length, or a multiplier.",
            "decided from fibre, staple and use",
            "\"820 /m\"",
        )
    }));
    rows.extend(both("yarn.warp.ply_twist", "yarn.weft.ply_twist", |path| {
        row(
            path,
            twist(),
            "Twist of the plies together, the other way round.",
            "decided so that the yarn hangs quiet",
            "\"500 /m\"",
        )
    }));
    rows.extend(both("yarn.warp.direction", "yarn.weft.direction", |path| {
        row(path, choice(HANDS), "Twist direction of the singles.", "Z", "\"Z\"")
    }));
    rows.extend(both("yarn.warp.preparation", "yarn.weft.preparation", |path| {
        row(
            path,
            choice(PREPARATIONS),
            "How it is drawn, which decides how airy it is.",
            "usual for the fibre and the spinner",
            "\"long draw\"",
        )
    }));
    rows.extend(both("yarn.warp.break_load", "yarn.weft.break_load", |path| {
        row(
            path,
            of(Kind::Force, "cN", 5.0, 100_000.0),
            "Mean load at which 50 cm of your yarn breaks, where you have tried it.",
            "computed from fibre, twist and a hand-spun factor",
            "\"480 cN ± 20 %\"",
        )
    }));
    rows.extend(both("yarn.warp.strength_spread", "yarn.weft.strength_spread", |path| {
        row(
            path,
            share(1.0, 80.0),
            "How unequal the breaks are: standard deviation as a share of the mean.",
            "18 to 25 %, usual for hand-spun yarn",
            "\"22 %\"",
        )
    }));
    rows.push(row(
        "yarn.warp.dressing",
        choice(&[
            word("none", "woven as it is"),
            word("starch", "flour or starch paste, washed out before printing"),
            word("gelatine", "thin warm gelatine, washed out before printing"),
        ]),
        "What the warp is stiffened with before weaving (warp size).",
        "none",
        "\"starch\"",
    ));
    rows.extend(warp());
    rows
}

fn warp() -> Vec<Key> {
    vec![
        row(
            "warp.sample",
            cm(0.0, 300.0).sure(),
            "Warp for a header, a sample woven first to be washed and measured, and the cuts.",
            "25 cm",
            "\"15 cm\"",
        ),
        row(
            "warp.between",
            cm(0.0, 100.0).sure(),
            "Left unwoven between two towels or scarves, which are then panels of their own.",
            "none: woven in one length",
            "\"5 cm\"",
        ),
        row("warp.spare", share(0.0, 60.0), "Yarn spun beyond the need, for breaks and slips.", "8 %", "\"8 %\""),
        row(
            "warp.repair",
            of(Kind::Mass, "g", 0.0, 1000.0).sure(),
            "Yarn kept for mending the garment later.",
            "15 g",
            "\"15 g\"",
        ),
        row("warp.turn", mm(0.0, 100.0), "Weft used at each turn at the edge.", "10 mm", "\"10 mm\""),
        row(
            "warp.tension",
            of(Kind::Force, "cN", 1.0, 2000.0).auto(),
            "Mean tension of one end while weaving.",
            "decided: a small share of what breaks it",
            "\"27 cN\"",
        ),
    ]
}

/// `[cloth]`.
pub fn cloth() -> Vec<Key> {
    let sett = || of(Kind::PerLength, "/cm", 0.5, 100.0);
    vec![
        row(
            "cloth.weave",
            Takes::Weave,
            "The weave by name: plain, rib 2/2, weft rib 2/2, hopsack 2, twill 2/2, twill 3/1 S, satin 5/2, sateen 8/3.",
            "plain",
            "\"plain\"",
        ),
        row(
            "cloth.draft",
            Takes::File { what: "a WIF draft" },
            "A weave drafted in a WIF file.",
            "the weave by name",
            "\"towel.wif\"",
        ),
        row(
            "cloth.firmness",
            share(5.0, 130.0).auto(),
            "How close: sett in the reed as a share of the greatest sett.",
            "decided from what is fixed, else 70 %",
            "\"70 %\"",
        ),
        row(
            "cloth.sett",
            sett().auto(),
            "Ends per length in the reed.",
            "decided from firmness or heddle",
            "\"13 /cm\"",
        ),
        row(
            "cloth.mass",
            of(Kind::AreaMass, "g/m2", 10.0, 3000.0).sure().auto(),
            "Wished mass of the finished cloth; decides the count when that is left open.",
            "it is what it becomes",
            "\"185 g/m2\"",
        ),
        row(
            "cloth.picks",
            sett().or(&[word("balanced", "as many picks as ends, off the loom")]),
            "Picks per length off the loom, `balanced`, or `{ on_loom = \"12 /cm\" }`.",
            "balanced",
            "\"balanced\"",
        ),
        row(
            "cloth.picks.on_loom",
            sett(),
            "Picks per length as counted on the stretched loom.",
            "computed",
            "\"12 /cm\"",
        ),
        row(
            "cloth.relax",
            share(0.0, 30.0),
            "What the cloth shortens when the tension is let off.",
            "4 % (1..13)",
            "\"4 % (1..13)\"",
        ),
        row(
            "cloth.shrink.width",
            share(0.0, 60.0),
            "What washing takes of the width.",
            "usual for the fibre, as a range",
            "\"8 ± 2 %\"",
        ),
        row(
            "cloth.shrink.length",
            share(0.0, 60.0),
            "What washing takes of the length.",
            "usual for the fibre, as a range",
            "\"8 ± 2 %\"",
        ),
        row(
            "cloth.later_shrink",
            share(0.0, 15.0),
            "What later washes still take, once the cloth was washed before cutting; where it is stated, pieces are cut larger by it.",
            "2 % (1..3) for the print, and pieces are cut to the size they are to have",
            "\"2 % (1..3)\"",
        ),
        row(
            "cloth.width",
            cm(1.0, 400.0).sure().auto(),
            "Width of the finished cloth.",
            "the article's own, else the width that wastes least",
            "\"59 cm\"",
        ),
        row(
            "cloth.edge_draw_in",
            mm(0.0, 80.0),
            "Width lost at the two edges together, however wide the cloth.",
            "6 mm (3..15)",
            "\"6 mm (3..15)\"",
        ),
        row(
            "cloth.crimp_share",
            share(5.0, 95.0),
            "How much of the bending the warp takes; the weft takes the rest.",
            "50 % (42..58)",
            "\"50 % (42..58)\"",
        ),
        row(
            "cloth.weft_slack",
            share(0.0, 20.0),
            "Weft laid in beyond the straight line, by an angle or waves.",
            "0 %",
            "\"2 % (0..4)\"",
        ),
        row(
            "cloth.warp_colours",
            Takes::Colours,
            "Colours across the warp; the order repeats.",
            "all natural",
            "\"24 natural, 6 indigo\"",
        ),
        row(
            "cloth.weft_colours",
            Takes::Colours,
            "Colours along the weft; the order repeats.",
            "all natural",
            "\"24 natural, 6 indigo\"",
        ),
    ]
}
