//! What the trade assumes before anything is measured, where the plan has no nearer figure. Ranges are over makers, 10–90 %.
//!
//! Sources are named with each; "common practice, no source" says that there is none.

use super::Prior;
use super::cloth::ClothPriors;
use crate::units::{
    Dimension, Duration, HOUR, Length, LinearDensity, M_H, MM, PER_MIN, PERCENT, Q, Rate, Ratio, Speed,
};

const PRACTICE: &str = "common practice, no source";

fn percent(middle: f64, low: f64, high: f64, source: &'static str) -> Prior<Ratio> {
    Prior::new(middle, low, high, &PERCENT, source)
}

/// A figure the plan works out by rule of thumb: makers find it off by up to a third either way.
pub fn rule_of_thumb<D: Dimension>(figure: Q<D>) -> Prior<D> {
    Prior {
        middle: figure,
        low: figure * 0.75,
        high: figure * (1.0 / 0.75),
        source: "the plan's own figure, within a third",
    }
}

/// A count aimed at: what a spinner gets who aims at it.
pub fn aimed_count(count: Q<LinearDensity>) -> Prior<LinearDensity> {
    Prior { middle: count, low: count * 0.8, high: count * 1.25, source: PRACTICE }
}

/// Unevenness of hand-spun count over 10 m weighings.
pub fn unevenness() -> Prior<Ratio> {
    percent(11.0, 6.0, 20.0, PRACTICE)
}

/// Length a skein loses in its first wash: cotton and flax little, springy wool a quarter (a 600 yd skein came out 433).
pub fn wash_loss_cotton() -> Prior<Ratio> {
    percent(3.0, 0.5, 6.0, PRACTICE)
}
/// The same for wool.
pub fn wash_loss_wool() -> Prior<Ratio> {
    percent(12.0, 3.0, 25.0, "one spinner's skein lost 28 %; else common practice, no source")
}
/// How much one skein differs from the next in that.
pub fn wash_scatter() -> Prior<Ratio> {
    percent(1.5, 0.7, 3.5, PRACTICE)
}

/// Twist counted ÷ twist set.
pub fn twist_got() -> Prior<Ratio> {
    percent(97.0, 85.0, 110.0, PRACTICE)
}
/// Scatter of single twist counts.
pub fn twist_scatter() -> Prior<Ratio> {
    percent(8.0, 4.0, 15.0, PRACTICE)
}

/// Spread of single-end strength: mill yarn of these counts 7–10 % (Handbook of Properties of Textile and Technical Fibres,
/// table 7.3), hand-spun 18–25 %.
pub fn strength_spread() -> Prior<Ratio> {
    percent(
        20.0,
        12.0,
        30.0,
        "mill yarn 7-10 % (Elmogahzy & Chewning, table 7.3); hand-spun: common practice, no source",
    )
}

/// Share of its strength a yarn keeps after the rubbing of heddle and reed.
pub fn retained() -> Prior<Ratio> {
    percent(65.0, 60.0, 70.0, PRACTICE)
}

/// Cloth of cotton, plain weave; `take_up` and `share` as the plan works them out.
pub fn cloth(take_up: Q<Ratio>, share: Q<Ratio>) -> ClothPriors {
    ClothPriors {
        take_up: rule_of_thumb(take_up),
        relax: percent(
            4.0,
            1.0,
            13.0,
            "75 in on the loom came off as 65; 1-2 % yarn stretch; else common practice, no source",
        ),
        shrink_width: percent(8.0, 4.0, 15.0, "light cotton sheet 8-10 %; samples to 15 %"),
        shrink_length: percent(8.0, 4.0, 13.0, "cotton yardage 11 % in two washes; light sheet 8-10 %"),
        draw_in_share: rule_of_thumb(share),
        draw_in_fixed: edge_draw_in(),
        scatter: percent(1.5, 0.7, 3.5, PRACTICE),
        width_scatter: Prior::new(4.0, 2.0, 8.0, &MM, PRACTICE),
    }
}

/// What hand preparation keeps: lint of seed cotton, then carding, then spinning; and how batches differ.
pub fn ginning_keeps() -> Prior<Ratio> {
    percent(34.0, 28.0, 38.0, "25 % (coloured, home) to 42 % (modern upland)")
}
/// Carding by hand.
pub fn carding_keeps() -> Prior<Ratio> {
    percent(85.0, 75.0, 93.0, PRACTICE)
}
/// Spinning.
pub fn spinning_keeps() -> Prior<Ratio> {
    percent(93.0, 85.0, 97.0, PRACTICE)
}
/// How much one batch of 50 g differs from the next.
pub fn batch_scatter() -> Prior<Ratio> {
    percent(3.0, 1.5, 6.0, PRACTICE)
}

/// Spinning singles, stops and all: diaries 47 m/h (spindle) to 366 m/h (charkha).
pub fn spinning_pace() -> Prior<Speed> {
    Prior::new(110.0, 50.0, 240.0, &M_H, "diaries: spindle 47, wheels 83-146, charkha 229-457 m/h")
}
/// Weaving on a rigid heddle: no timed figure was found for it; floor looms gave 32 cm/h.
pub fn weaving_pace() -> Prior<Speed> {
    Prior::new(0.25, 0.1, 0.5, &M_H, "floor loom 0.32 m/h; no timed figure for a rigid heddle")
}
/// Threading, ends a minute.
pub fn threading_pace() -> Prior<Rate> {
    Prior::new(2.5, 1.0, 4.0, &PER_MIN, "100 in 30 minutes; 20 in 5")
}
/// How one hour of a step differs from the next.
pub fn pace_scatter() -> Prior<Ratio> {
    percent(30.0, 15.0, 60.0, PRACTICE)
}
/// Time given to it in a week.
pub fn week() -> Prior<Duration> {
    Prior::new(6.0, 2.0, 14.0, &HOUR, PRACTICE)
}
/// How weeks differ.
pub fn week_scatter() -> Prior<Ratio> {
    percent(60.0, 30.0, 120.0, PRACTICE)
}
/// Weft used per length of cloth: how one weighing differs from the next over 10 cm.
pub fn weft_scatter() -> Prior<Ratio> {
    percent(6.0, 3.0, 12.0, PRACTICE)
}
/// How one test strip's reading differs from the next: strips are read at a few widths.
pub fn strip_scatter() -> Prior<Ratio> {
    percent(18.0, 10.0, 35.0, PRACTICE)
}
/// The usual fixed part of draw-in, both edges together.
pub fn edge_draw_in() -> Prior<Length> {
    Prior::new(6.0, 3.0, 15.0, &MM, PRACTICE)
}
