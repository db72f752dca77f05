//! Rows of print, season, pace and hours.

use super::*;

/// `[print]`, `[season]`, `[pace]`, `[hours]`.
pub fn rest() -> Vec<Key> {
    let mut rows = print();
    rows.extend(season());
    rows.extend(pace());
    rows
}

fn print() -> Vec<Key> {
    let size = || mm(3.0, 2000.0).sure();
    vec![
        row(
            "print.artwork",
            Takes::File { what: "a PNG or SVG picture" },
            "The picture.",
            "nothing is printed",
            "\"tern.svg\"",
        ),
        row("print.width", size(), "Width on the finished garment.", "needed with an artwork", "\"24 cm\""),
        row("print.height", size(), "Height on the finished garment.", "by the picture's own shape", "\"18 cm\""),
        row(
            "print.finest_line",
            mm(0.02, 50.0).sure(),
            "Thinnest line or gap at that width.",
            "measured in the picture",
            "\"1.2 mm\"",
        ),
        row("print.place.piece", Takes::Text { longest: 40 }, "The piece it goes on.", "front", "\"front\""),
        row(
            "print.place.below_neck",
            mm(0.0, 1500.0).sure(),
            "From the finished neck edge (of a bag: the top edge) to its top.",
            "a place that looks right",
            "\"9 cm\"",
        ),
        row(
            "print.place.across",
            mm(-1000.0, 1000.0).sure(),
            "From the centre line, to the wearer's left.",
            "0 mm: centred",
            "\"4 cm\"",
        ),
        row(
            "print.when",
            choice(&[
                word("after-wash", "on cloth washed before: it keeps its size"),
                word("before-wash", "on cloth that still shrinks: drawn larger"),
            ]),
            "When it is printed.",
            "after-wash",
            "\"after-wash\"",
        ),
        row(
            "print.method",
            choice(&[
                word("screen", "ink pushed through a mesh"),
                word("stencil", "ink dabbed through a cut sheet"),
                word("block", "a cut block pressed on"),
            ]),
            "How it is printed.",
            "screen",
            "\"screen\"",
        ),
        row(
            "print.mesh.count",
            of(Kind::PerLength, "/cm", 5.0, 250.0).auto(),
            "Threads per length.",
            "decided from cloth and lines",
            "\"43 /cm\"",
        ),
        row(
            "print.mesh.thread",
            of(Kind::Length, "um", 15.0, 400.0),
            "Diameter of its thread.",
            "usual for the count",
            "\"80 um\"",
        ),
        row(
            "print.separate",
            whole(1, 12),
            "Into how many inks a picture without named inks is parted.",
            "by its colours",
            "2",
        ),
        row(
            "print.trap",
            mm(0.0, 5.0).sure(),
            "How far the lighter of two neighbouring inks runs under the darker.",
            "0.4 mm: what hands miss when they lay film on film",
            "\"0.4 mm\"",
        ),
        row(
            "print.block",
            choice(&[
                word("end grain", "a block of boxwood, maple or pear cut across its grain"),
                word("side grain", "a plank, or a sheet of linoleum"),
            ]),
            "What a block is cut from.",
            "side grain",
            "\"side grain\"",
        ),
        row("print.underbase", Takes::Flag, "White laid below the colours.", "false", "true"),
        row(
            "print.tone",
            choice(&[
                word("solid", "flat areas only"),
                word("dots", "round dots on a grid"),
                word("ellipses", "elliptical dots on a grid"),
                word("scattered", "dots scattered evenly"),
            ]),
            "How shades are made.",
            "solid",
            "\"dots\"",
        ),
        row(
            "print.ruling",
            of(Kind::PerLength, "/cm", 2.0, 80.0).sure().auto(),
            "Rows of dots per length.",
            "decided from mesh and cloth",
            "\"10 /cm\"",
        ),
        row(
            "print.angle",
            of(Kind::Angle, "deg", -180.0, 180.0).sure().auto(),
            "Angle of the rows of dots.",
            "decided against mesh and threads",
            "\"22.5 deg\"",
        ),
        row(
            "print.ink[].name",
            Takes::Text { longest: 40 },
            "What it is called on the film.",
            "its colour",
            "\"night blue\"",
        ),
        row("print.ink[].colour", Takes::Colour, "Its colour.", "needed", "\"#2d3e68\""),
        row("print.ink[].opaque", Takes::Flag, "It covers what is below.", "false", "true"),
    ]
}

fn season() -> Vec<Key> {
    vec![
        row(
            "season.temperatures",
            Takes::File { what: "a CSV file of daily least and greatest temperatures" },
            "Your own daily temperatures; the header says °C or °F.",
            "the season is not reckoned",
            "\"my-garden.csv\"",
        ),
        row(
            "season.start",
            Takes::Date,
            "When it is sown or planted out.",
            "the first day of the file",
            "\"2026-04-20\"",
        ),
        row(
            "season.frost",
            Takes::Date,
            "First frost to be expected in autumn.",
            "the last day of the file",
            "\"2026-10-15\"",
        ),
        row(
            "season.sum",
            choice(&[
                word("plain", "mean of the day's greatest and least, less the base"),
                word("capped", "the same with the greatest cut off at 30 °C (86 °F)"),
            ]),
            "How heat is summed.",
            "plain",
            "\"plain\"",
        ),
        row(
            "season.need",
            of(Kind::HeatSum, "°C-d", 100.0, 6000.0),
            "Heat to the first open boll.",
            "usual for the fibre, as a range",
            "\"970 °C-d (920..1050)\"",
        ),
    ]
}

fn pace() -> Vec<Key> {
    let grams = || of(Kind::MassRate, "g/h", 0.1, 100_000.0);
    let metres = || of(Kind::Speed, "m/h", 0.1, 50_000.0);
    let number = |unit, high| of(Kind::Rate, unit, 0.05, high);
    let usual = "usual, as a wide range";
    vec![
        row("pace.ginning", grams(), "Lint made from seed cotton.", usual, "\"40 g/h\""),
        row("pace.scouring", grams(), "Wool washed.", usual, "\"450 g/h\""),
        row("pace.breaking", grams(), "Flax broken and scutched.", usual, "\"120 g/h\""),
        row("pace.hackling", grams(), "Flax hackled.", usual, "\"150 g/h\""),
        row("pace.combing", grams(), "Wool combed.", usual, "\"60 g/h\""),
        row("pace.carding", grams(), "Fibre carded.", usual, "\"80 g/h\""),
        row(
            "pace.spinning",
            metres(),
            "Singles spun, stops included.",
            "from the spinner's pace and stops",
            "\"100 m/h\"",
        ),
        row("pace.plying", metres(), "Plied yarn made, stops included.", usual, "\"250 m/h\""),
        row("pace.winding", metres(), "Yarn wound from bobbin to skein or ball.", usual, "\"900 m/h\""),
        row("pace.warping", metres(), "Warp yarn wound off.", usual, "\"500 m/h\""),
        row("pace.threading", number("/h", 5000.0), "Ends threaded.", usual, "\"120 /h\""),
        row("pace.weaving", number("/min", 300.0), "Picks woven, stops not included.", usual, "\"14 /min\""),
        row("pace.sewing", metres(), "Seam sewn, pinning and pressing included.", usual, "\"2 m/h\""),
        row("pace.printing", number("/h", 500.0), "Prints pulled, one ink.", usual, "\"6 /h\""),
        row(
            "pace.stops",
            share(0.0, 90.0),
            "Share of the spinning and weaving time that goes in stops.",
            "20 % (10..35)",
            "\"20 %\"",
        ),
        row(
            "hours.per_week",
            of(Kind::Duration, "h", 0.1, 168.0),
            "Hours of work a week, all helpers together.",
            "no weeks are told",
            "\"10 h\"",
        ),
    ]
}
