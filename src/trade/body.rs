//! Body measurements: what each is called, how to take it, and how it is spread over a population, so that a person can
//! start from a usual size and put in what the tape said. Names follow ISO 8559-1, the definitions are our own words.
//! The table is the 2012 survey of U.S. Army personnel (adults of 17 to 58, leaner in the waist than the public). Knows no
//! garment: ease and cut are not here.

use crate::units::{Length, MM, Q};

/// Whose table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    Women,
    Men,
}

impl Group {
    pub const ALL: [Group; 2] = [Group::Women, Group::Men];
    /// The word a plan and a sheet use.
    pub fn word(self) -> &'static str {
        match self {
            Group::Women => "women",
            Group::Men => "men",
        }
    }
}

/// A measurement of the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    Head,
    Neck,
    NeckBase,
    Chest,
    Waist,
    Hip,
    ShoulderLength,
    ShoulderBreadth,
    UpperArm,
    Wrist,
    Hand,
    BackWaist,
    ArmLength,
    AcrossBack,
    NapeHeight,
    Stature,
}

/// What a measurement is: its key in a plan, its name, how to take it, and the bounds outside which it is a slip.
#[derive(Clone, Copy, Debug)]
pub struct Description {
    /// Key in `garment.body`.
    pub key: &'static str,
    /// Name, after ISO 8559-1.
    pub name: &'static str,
    /// How to take it.
    pub how: &'static str,
    /// Least and greatest millimetres read as a person's, a small child's and a very large adult's included. Bounds for
    /// catching slips of a factor ten or of inches for centimetres; common practice, no source.
    pub bounds: (f64, f64),
}

impl Part {
    pub const ALL: [Part; 16] = [
        Part::Head,
        Part::Neck,
        Part::NeckBase,
        Part::Chest,
        Part::Waist,
        Part::Hip,
        Part::ShoulderLength,
        Part::ShoulderBreadth,
        Part::UpperArm,
        Part::Wrist,
        Part::Hand,
        Part::BackWaist,
        Part::ArmLength,
        Part::AcrossBack,
        Part::NapeHeight,
        Part::Stature,
    ];

    /// Its key, name, how to take it and its bounds.
    pub fn describe(self) -> Description {
        let (key, name, how, bounds) = match self {
            Part::Head => (
                "head",
                "head girth",
                "The greatest level girth of the head, just above the ears. Lay the tape over the hair as it is worn.",
                (400.0, 720.0),
            ),
            Part::Neck => (
                "neck",
                "neck girth",
                "Round the middle of the neck, a thumb's breadth below the Adam's apple and over the knob at the nape.",
                (190.0, 650.0),
            ),
            Part::NeckBase => (
                "neck_base",
                "neck base girth",
                "Round the root of the neck: over the nape, past both side neck points and the hollow in front.",
                (210.0, 700.0),
            ),
            Part::Chest => (
                "chest",
                "chest girth",
                "The greatest level girth under the armpits and over the shoulder blades, breathing quietly. With a bust: \
                 over its fullest part.",
                (400.0, 2000.0),
            ),
            Part::Waist => {
                ("waist", "waist girth", "Level round the waist, at the height of the navel.", (380.0, 2000.0))
            }
            Part::Hip => ("hip", "hip girth", "The greatest level girth over the seat.", (400.0, 2000.0)),
            Part::ShoulderLength => (
                "shoulder_length",
                "shoulder length",
                "From the side neck point along the shoulder to the shoulder point, the end of the bone.",
                (60.0, 250.0),
            ),
            Part::ShoulderBreadth => (
                "shoulder_breadth",
                "shoulder breadth",
                "Straight across the back from shoulder point to shoulder point. A tape that follows the back reads a few \
                 centimetres more, which only makes the garment roomier.",
                (200.0, 700.0),
            ),
            Part::UpperArm => (
                "upper_arm",
                "upper arm girth",
                "The greatest girth of the upper arm. The table is of the tightened muscle, which is the safe side.",
                (120.0, 800.0),
            ),
            Part::Wrist => ("wrist", "wrist girth", "Round the wrist, over its bone.", (90.0, 350.0)),
            Part::Hand => ("hand", "hand girth", "Round the knuckles, thumb not included.", (100.0, 400.0)),
            Part::BackWaist => (
                "back_waist",
                "back neck to waist",
                "From the knob at the nape down the back to the waist.",
                (180.0, 750.0),
            ),
            Part::ArmLength => (
                "arm_length",
                "arm length",
                "From the shoulder point along the outside of the arm to the wrist.",
                (220.0, 950.0),
            ),
            Part::AcrossBack => {
                ("across_back", "back width", "Across the back between the creases of the arms.", (180.0, 750.0))
            }
            Part::NapeHeight => (
                "nape_height",
                "nape height",
                "From the floor to the knob at the nape, standing straight.",
                (600.0, 2100.0),
            ),
            Part::Stature => {
                ("stature", "height", "From the floor to the crown, standing straight without shoes.", (700.0, 2450.0))
            }
        };
        Description { key, name, how, bounds }
    }

    /// The measurement a plan's key names.
    pub fn of_key(key: &str) -> Option<Part> {
        Part::ALL.into_iter().find(|part| part.describe().key == key)
    }
}

/// Where a row's numbers come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sample {
    /// The whole public file: 1986 women or 4082 men; percentiles counted.
    Survey,
    /// 93 men read from three places of the file; percentiles from mean and spread, as for a normal curve.
    Part,
}

/// The survey behind the table.
pub const SOURCE: &str =
    "Gordon et al., 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007 (2014), public files";

/// A measurement's spread over one group, millimetres.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    pub part: Part,
    pub group: Group,
    pub mean: f64,
    pub sd: f64,
    /// 5th, 50th, 95th and 99th percentile, where they were counted.
    pub counted: Option<[f64; 4]>,
    /// Name in the survey.
    pub survey_name: &'static str,
}

impl Row {
    pub fn sample(&self) -> Sample {
        if self.counted.is_some() { Sample::Survey } else { Sample::Part }
    }
}

const fn row(part: Part, group: Group, mean: f64, sd: f64, counted: [f64; 4], survey_name: &'static str) -> Row {
    Row { part, group, mean, sd, counted: Some(counted), survey_name }
}
const fn part_row(part: Part, group: Group, mean: f64, sd: f64, survey_name: &'static str) -> Row {
    Row { part, group, mean, sd, counted: None, survey_name }
}

use Group::{Men, Women};

/// The table.
pub static ROWS: [Row; 32] = [
    row(Part::Head, Women, 561.1, 19.4, [532.0, 560.0, 597.0, 611.0], "headcircumference"),
    part_row(Part::Head, Men, 574.5, 17.8, "headcircumference"),
    row(Part::Neck, Women, 329.8, 19.2, [302.0, 328.0, 363.0, 384.0], "neckcircumference"),
    row(Part::Neck, Men, 397.6, 25.8, [360.0, 395.0, 443.0, 467.0], "neckcircumference"),
    row(Part::NeckBase, Women, 371.2, 19.7, [340.0, 370.0, 405.0, 423.0], "neckcircumferencebase"),
    part_row(Part::NeckBase, Men, 433.2, 28.5, "neckcircumferencebase"),
    row(Part::Chest, Women, 946.9, 82.7, [824.0, 940.0, 1094.0, 1160.0], "chestcircumference"),
    row(Part::Chest, Men, 1058.7, 87.4, [922.0, 1056.0, 1207.0, 1276.0], "chestcircumference"),
    row(Part::Waist, Women, 860.9, 99.9, [710.0, 852.0, 1040.0, 1115.0], "waistcircumference"),
    row(Part::Waist, Men, 940.6, 111.7, [768.0, 937.0, 1131.0, 1214.0], "waistcircumference"),
    row(Part::Hip, Women, 1021.2, 75.9, [901.0, 1018.0, 1156.0, 1206.0], "buttockcircumference"),
    row(Part::Hip, Men, 1019.5, 76.7, [899.0, 1017.0, 1149.0, 1218.0], "buttockcircumference"),
    row(Part::ShoulderLength, Women, 135.4, 10.3, [120.0, 135.0, 153.0, 160.0], "shoulderlength"),
    row(Part::ShoulderLength, Men, 149.8, 10.5, [133.0, 150.0, 167.0, 175.0], "shoulderlength"),
    row(Part::ShoulderBreadth, Women, 365.3, 18.3, [335.0, 365.0, 396.0, 406.0], "biacromialbreadth"),
    row(Part::ShoulderBreadth, Men, 415.7, 19.2, [384.0, 415.0, 447.0, 463.0], "biacromialbreadth"),
    row(Part::UpperArm, Women, 305.6, 30.8, [259.0, 304.0, 360.0, 388.0], "bicepscircumferenceflexed"),
    part_row(Part::UpperArm, Men, 360.3, 39.7, "bicepscircumferenceflexed"),
    row(Part::Wrist, Women, 154.8, 7.8, [142.0, 154.0, 168.0, 174.0], "wristcircumference"),
    row(Part::Wrist, Men, 175.9, 9.0, [162.0, 176.0, 191.0, 198.0], "wristcircumference"),
    row(Part::Hand, Women, 186.6, 8.8, [173.0, 187.0, 202.0, 207.0], "handcircumference"),
    row(Part::Hand, Men, 212.3, 10.2, [195.0, 212.0, 230.0, 237.0], "handcircumference"),
    row(Part::BackWaist, Women, 425.4, 26.4, [384.0, 424.0, 470.0, 494.0], "waistbacklength"),
    row(Part::BackWaist, Men, 477.6, 27.7, [433.0, 477.0, 524.0, 548.0], "waistbacklength"),
    row(Part::ArmLength, Women, 543.6, 29.4, [497.0, 542.0, 594.0, 611.0], "sleeveoutseam"),
    row(Part::ArmLength, Men, 593.1, 30.8, [545.0, 592.0, 645.0, 670.0], "sleeveoutseam"),
    row(Part::AcrossBack, Women, 373.4, 29.8, [326.0, 373.0, 423.0, 445.0], "interscyei"),
    row(Part::AcrossBack, Men, 430.9, 35.2, [374.0, 430.0, 491.0, 515.0], "interscyei"),
    row(Part::NapeHeight, Women, 1395.7, 59.5, [1300.0, 1393.0, 1498.0, 1533.0], "cervicaleheight"),
    row(Part::NapeHeight, Men, 1517.3, 63.3, [1416.0, 1517.0, 1623.0, 1677.0], "cervicaleheight"),
    row(Part::Stature, Women, 1628.5, 64.2, [1525.0, 1626.0, 1740.0, 1778.0], "stature"),
    row(Part::Stature, Men, 1756.2, 68.6, [1648.0, 1755.0, 1870.0, 1927.0], "stature"),
];

/// The row of a measurement in a group.
pub fn spread(part: Part, group: Group) -> &'static Row {
    let at = Part::ALL.iter().position(|&p| p == part).unwrap_or(0);
    &ROWS[2 * at + usize::from(group == Group::Men)]
}

/// Normal scores of the 1st, 5th, 50th, 95th and 99th percentile.
const SCORES: [f64; 5] = [-2.326_347_874, -1.644_853_627, 0.0, 1.644_853_627, 2.326_347_874];

/// Where a row stands at `SCORES`. The 1st percentile was not counted: it lies as many spreads below the mean as on a
/// normal curve, but never above the 5th.
fn knots(row: &Row) -> [f64; 5] {
    let normal = SCORES.map(|z| row.mean + z * row.sd);
    match row.counted {
        Some([p5, p50, p95, p99]) => [normal[0].min(p5 - 1.0), p5, p50, p95, p99],
        None => normal,
    }
}

/// A straight line through the two knots that hold `x`, the outer ones carried on.
fn along(xs: &[f64; 5], ys: &[f64; 5], x: f64) -> f64 {
    let i = (1..4).take_while(|&i| x > xs[i]).count();
    ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])
}

/// A measurement at a normal score: 0 the middle of the group, ±1.645 the 5th and 95th of a hundred.
pub fn at_score(part: Part, group: Group, score: f64) -> Q<Length> {
    Q::new(along(&SCORES, &knots(spread(part, group)), score.clamp(-4.0, 4.0)), &MM)
}

/// A measurement at a percentile, between the 0.1st and the 99.9th.
pub fn usual(part: Part, group: Group, percentile: f64) -> Q<Length> {
    at_score(part, group, score_of(percentile))
}

/// The normal score a measured length has in a group: how unusual it is there.
pub fn score(part: Part, group: Group, length: Q<Length>) -> f64 {
    along(&knots(spread(part, group)), &SCORES, length.get(&MM))
}

/// Normal score of a percentile, by halving: the cumulative curve has no closed inverse.
pub fn score_of(percentile: f64) -> f64 {
    let share = (percentile / 100.0).clamp(0.001, 0.999);
    let (mut low, mut high) = (-4.0, 4.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let below = 0.5 * libm::erfc(-middle / std::f64::consts::SQRT_2);
        if below < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_measurement_has_both_rows_in_place() {
        for part in Part::ALL {
            for group in Group::ALL {
                let row = spread(part, group);
                assert_eq!((row.part, row.group), (part, group));
                let (low, high) = part.describe().bounds;
                assert!(low < at_score(part, group, -4.0).get(&MM), "{part:?}");
                assert!(high > at_score(part, group, 4.0).get(&MM), "{part:?}");
            }
            assert_eq!(Part::of_key(part.describe().key), Some(part));
        }
    }

    /// Published: the percentiles of the survey, at the millimetre.
    #[test]
    fn percentiles_are_the_printed_ones() {
        for (part, group, percentile, printed) in [
            (Part::Head, Women, 95.0, 597.0),
            (Part::Chest, Men, 5.0, 922.0),
            (Part::Chest, Women, 50.0, 940.0),
            (Part::Hip, Women, 99.0, 1206.0),
            (Part::Stature, Men, 50.0, 1755.0),
            (Part::BackWaist, Men, 95.0, 524.0),
        ] {
            assert!((usual(part, group, percentile).get(&MM) - printed).abs() < 0.5, "{part:?} {group:?}");
        }
    }

    /// Published: the gap between head and neck base is 190 mm in the mean of women and 140 mm of men (same survey), which
    /// is the check on the rows taken from part of the men.
    #[test]
    fn a_head_is_wider_than_a_neck() {
        for (group, gap) in [(Women, 190.0), (Men, 140.0)] {
            let found = spread(Part::Head, group).mean - spread(Part::NeckBase, group).mean;
            assert!((found - gap).abs() < 2.0, "{found}");
        }
    }

    #[test]
    fn score_and_length_undo_each_other_and_rise() {
        for row in &ROWS {
            let mut last = 0.0;
            for step in -40..=40 {
                let z = f64::from(step) / 10.0;
                let length = at_score(row.part, row.group, z);
                assert!(length.get(&MM) > last, "{row:?}");
                last = length.get(&MM);
                assert!((score(row.part, row.group, length) - z).abs() < 1e-9);
            }
        }
        assert!(score_of(50.0).abs() < 1e-12 && (score_of(95.0) - 1.644_853_627).abs() < 1e-6);
    }
}
