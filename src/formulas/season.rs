//! Season: heat units. Two forms are in use and differ by a third on cool days: the plain one is the chain's.

use super::registry::formulas;

formulas! {
    /// Heat units of a day, plain: the mean above 60 °F, never below 0.
    DD60 "heat-units": (Tx: Temperature DEG_F -20.0..120.0, Tn: Temperature DEG_F -40.0..100.0) -> h: HeatSum DD_F
        = "max((Tx+Tn)/2-60, 0)"; |[x, n]| ((x + n) / 2.0 - 60.0).max(0.0); Published "msu-deltaweather" "DD60";
    /// Heat units of a day, capped at 86 °F and floored at 60 °F before the mean.
    DD60_CAPPED "heat-units-capped": (Tx: Temperature DEG_F -20.0..120.0, Tn: Temperature DEG_F -40.0..100.0) -> h: HeatSum DD_F
        = "(max(min(Tx, 86), 60)+max(min(Tn, 86), 60))/2-60"; |[x, n]| (x.clamp(60.0, 86.0) + n.clamp(60.0, 86.0)) / 2.0 - 60.0; Practice "practice" "a variant in use: state which form a sum is of";
    /// Heat units of a day for maize, 86/50.
    MAIZE "heat-units-maize": (Tx: Temperature DEG_F -20.0..120.0, Tn: Temperature DEG_F -40.0..100.0) -> h: HeatSum DD_F
        = "(max(min(Tx, 86), 50)+max(min(Tn, 86), 50))/2-50"; |[x, n]| (x.clamp(50.0, 86.0) + n.clamp(50.0, 86.0)) / 2.0 - 50.0; Published "waushara-argus" "2018; agron-541 lesson 2b";
    /// Share of the heat a crop needs that the season gives.
    RIPENS "ripens": (h: HeatSum DD_F 0.0..10000.0, n: HeatSum DD_F 100.0..5000.0) -> q: Ratio PERCENT
        = "100*h/n"; |[h, n]| 100.0 * h / n; Identity "identity" "have over need";
}
