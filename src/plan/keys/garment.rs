//! Rows of the garment and the body.

use super::*;
use crate::trade::body::Part;

const KINDS: &[Word] = &[
    word("tee", "a top with sleeves"),
    word("tote", "a bag with two handles"),
    word("apron", "with bib, neck strap and ties"),
    word("towel", "hemmed at both ends"),
    word("scarf", "as wide as the cloth"),
    word("pieces", "pieces of your own"),
];
const NECKS: &[Word] = &[
    word("scoop", "curved, wider and deeper than the neck"),
    word("close", "curved at the root of the neck, with a slit"),
    word("boat", "curved, wide and shallow"),
    word("slit", "straight along the shoulders, nothing cut away"),
    word("keyhole", "close round the neck with a slit down the front"),
];
const SEAMS: &[Word] = &[
    word("plain", "sewn once, pressed open, raw edges overcast"),
    word("felled", "folded over itself and sewn down flat"),
    word("french", "sewn twice, raw edges inside"),
    word("lapped", "one edge over the other, for the cloth's own edges"),
];

/// `[garment]`.
pub fn garment() -> Vec<Key> {
    let mut rows = vec![
        row("garment.kind", choice(KINDS), "The article.", "the plan cannot be worked out", "\"tee\""),
        row(
            "garment.cut",
            choice(&[
                word("shaped", "curved armholes and neck"),
                word("straight", "rectangles and gussets, nearly no waste"),
            ]),
            "How a tee is cut.",
            "shaped",
            "\"shaped\"",
        ),
        row("garment.how_many", whole(1, 200), "How many of it.", "1", "1"),
        row("garment.length", cm(10.0, 250.0).sure(), "Nape to hem of a tee, finished.", "from the body", "\"66 cm\""),
    ];
    rows.extend(body());
    rows.extend(shape());
    rows.extend(sewing());
    rows.extend(pieces());
    rows
}

/// One row a measurement, from the table of the trade.
fn body() -> Vec<Key> {
    let mut rows = vec![row(
        "garment.body.start",
        Takes::UsualSize,
        "The usual size that stands in for what was not measured: women or men, and how many of a hundred are smaller.",
        "the nearest to what was measured",
        "\"women p50\"",
    )];
    for part in Part::ALL {
        let about = part.describe();
        let (low, high) = about.bounds;
        rows.push(Key {
            // The table is made once and lives as long as the program.
            path: String::leak(format!("garment.body.{}", about.key)),
            takes: mm(low, high),
            doc: about.how,
            absent: "from the usual size",
            example: match part {
                Part::Head => "\"57 cm\"",
                Part::NeckBase => "\"38 cm\"",
                Part::ShoulderBreadth => "\"44 cm\"",
                Part::UpperArm => "\"31 cm\"",
                Part::Neck => "\"36 cm\"",
                Part::ShoulderLength => "\"14 cm\"",
                Part::Wrist => "\"16 cm\"",
                Part::Hand => "\"19 cm\"",
                Part::BackWaist | Part::AcrossBack => "\"42 cm\"",
                Part::ArmLength => "\"56 cm\"",
                Part::NapeHeight => "\"143 cm\"",
                Part::Stature => "\"168 cm\"",
                Part::Waist => "\"84 cm\"",
                Part::Chest | Part::Hip => "\"98 cm\"",
            },
        });
    }
    rows
}

fn shape() -> Vec<Key> {
    let ease = |high| cm(-5.0, high).sure();
    let by_draft = "by the draft, which says so";
    vec![
        row("garment.ease.chest", ease(80.0), "Ease round the chest.", by_draft, "\"14 cm\""),
        row("garment.ease.hip", ease(80.0), "Ease round the hip.", by_draft, "\"10 cm\""),
        row("garment.ease.upper_arm", ease(40.0), "Ease round the upper arm.", by_draft, "\"8 cm\""),
        row(
            "garment.neck.style",
            choice(NECKS),
            "The opening for the head.",
            "scoop; slit where the cut is straight",
            "\"scoop\"",
        ),
        row("garment.neck.width", cm(8.0, 60.0).sure(), "Across, from side to side.", by_draft, "\"19 cm\""),
        row(
            "garment.neck.front_depth",
            cm(0.0, 40.0).sure(),
            "Below the shoulder line in front.",
            by_draft,
            "\"9 cm\"",
        ),
        row("garment.neck.back_depth", cm(0.0, 30.0).sure(), "Below the shoulder line behind.", by_draft, "\"2 cm\""),
        row(
            "garment.neck.slit",
            cm(0.0, 50.0).sure().auto(),
            "Length of the slit.",
            "as long as the head needs",
            "\"12 cm\"",
        ),
        row(
            "garment.sleeve.length",
            cm(0.0, 100.0).sure().or(&[word("short", "above the elbow"), word("long", "to the wrist")]),
            "From the shoulder point to the finished edge.",
            "short",
            "\"short\"",
        ),
        row("garment.sleeve.opening", cm(8.0, 100.0).sure(), "Girth at the finished edge.", by_draft, "\"36 cm\""),
        row(
            "garment.gusset",
            cm(2.0, 40.0).sure().auto(),
            "Side of the square under the arm of a straight tee.",
            by_draft,
            "\"12 cm\"",
        ),
        row(
            "garment.finished.width",
            cm(1.0, 300.0).sure(),
            "Across.",
            "needed for towel, scarf, tote and apron",
            "\"42 cm\"",
        ),
        row(
            "garment.finished.length",
            cm(1.0, 1000.0).sure(),
            "Along.",
            "needed for towel, scarf, tote and apron",
            "\"75 cm\"",
        ),
        row("garment.finished.depth", cm(0.0, 100.0).sure(), "Front to back of a tote.", "flat", "\"10 cm\""),
        row(
            "garment.finished.fringe",
            cm(0.0, 50.0).sure(),
            "Fringe at each end of a scarf, beyond its length.",
            "none: hemmed",
            "\"8 cm\"",
        ),
    ]
}

fn sewing() -> Vec<Key> {
    vec![
        row("garment.handles.length", cm(5.0, 200.0).sure(), "From seam to seam.", "by the draft", "\"60 cm\""),
        row("garment.handles.width", cm(0.5, 20.0).sure(), "Finished.", "by the draft", "\"3 cm\""),
        row("garment.lining", Takes::Flag, "Lined with a thinner cloth.", "false", "true"),
        row("garment.pocket", Takes::Flag, "A pocket on the apron.", "false", "true"),
        row("garment.seam.kind", choice(SEAMS), "How the seams are sewn.", "plain", "\"felled\""),
        row(
            "garment.seam.allowance",
            mm(3.0, 60.0).sure(),
            "Cloth beyond the seam line.",
            "by the kind of seam",
            "\"15 mm\"",
        ),
        row("garment.hem", mm(3.0, 150.0).sure(), "Whole depth of a hem, both turns.", "by the article", "\"25 mm\""),
        row(
            "garment.facing",
            mm(10.0, 150.0).sure(),
            "Width of the facing round the neck.",
            "by the draft",
            "\"35 mm\"",
        ),
        row(
            "garment.one_way",
            Takes::Flag,
            "Pieces lie the right way up only: nap, or a pattern with a top.",
            "false",
            "true",
        ),
        row(
            "garment.match_stripes",
            Takes::Flag,
            "Stripes of the warp and weft colours run on across the seams: pieces are laid by them, which takes more cloth.",
            "false",
            "true",
        ),
    ]
}

fn pieces() -> Vec<Key> {
    vec![
        row(
            "garment.piece[].name",
            Takes::Text { longest: 40 },
            "What it is called on paper.",
            "a number",
            "\"pocket\"",
        ),
        row(
            "garment.piece[].width",
            cm(0.5, 300.0).sure(),
            "Across the cloth, finished.",
            "from the outline",
            "\"30 cm\"",
        ),
        row(
            "garment.piece[].length",
            cm(0.5, 1000.0).sure(),
            "Along the cloth, finished.",
            "from the outline",
            "\"45 cm\"",
        ),
        row("garment.piece[].how_many", whole(1, 200), "How many are cut for one article.", "1", "2"),
        row("garment.piece[].pairs", Takes::Flag, "Half of them are cut turned over.", "false", "true"),
        row(
            "garment.piece[].outline",
            Takes::File { what: "an SVG or DXF file with a true size" },
            "Its shape, drawn true to size.",
            "a rectangle",
            "\"sleeve.svg\"",
        ),
        row(
            "garment.piece[].allowance",
            mm(0.0, 60.0).sure(),
            "Cloth added all round.",
            "by the seam for a rectangle, none for an outline",
            "\"10 mm\"",
        ),
    ]
}
