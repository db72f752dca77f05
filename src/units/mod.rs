//! Quantities as types: one `f64` in SI behind a phantom dimension.
//!
//! What every other layer stands on. Knows no trade rule, no formula and no plan; the text forms a person types
//! (`"9 1/2 in"`, `"20/2 Ne"`, `"27 ± 2 mm"`) are read in [`text`] and printed back in [`show`].

pub mod near;
pub mod ruler;
pub mod show;
pub mod text;

use std::marker::PhantomData;

/// A quantity of dimension `D`, held in SI.
pub struct Q<D>(f64, PhantomData<D>);

impl<D> Clone for Q<D> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<D> Copy for Q<D> {}
impl<D> PartialEq for Q<D> {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}
impl<D> PartialOrd for Q<D> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        self.0.partial_cmp(&other.0)
    }
}
impl<D> std::fmt::Debug for Q<D> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} SI", self.0)
    }
}

impl<D> Q<D> {
    /// From a number of SI units.
    pub const fn si(value: f64) -> Self {
        Q(value, PhantomData)
    }
    /// The number of SI units.
    pub const fn to_si(self) -> f64 {
        self.0
    }
    /// From a number of `unit`.
    pub fn new(value: f64, unit: &Unit<D>) -> Self {
        Q(unit.to_si(value), PhantomData)
    }
    /// The number of `unit` in it.
    pub fn get(self, unit: &Unit<D>) -> f64 {
        unit.from_si(self.0)
    }
}

impl<D> std::ops::Add for Q<D> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Q::si(self.0 + other.0)
    }
}
impl<D> std::ops::Sub for Q<D> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Q::si(self.0 - other.0)
    }
}
impl<D> std::ops::Mul<f64> for Q<D> {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Q::si(self.0 * times)
    }
}
impl<D> std::ops::Div for Q<D> {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

/// How a unit counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// SI = number × factor.
    Direct(f64),
    /// SI = factor ÷ number: the indirect yarn counts, length for a fixed mass.
    Inverse(f64),
    /// SI = number × factor + offset: temperatures.
    Affine(f64, f64),
}

impl Scale {
    /// Number of units to number of SI units.
    #[inline(always)]
    pub fn to_si(self, value: f64) -> f64 {
        match self {
            Scale::Direct(k) => value * k,
            Scale::Inverse(k) => k / value,
            Scale::Affine(k, o) => value * k + o,
        }
    }
    /// Number of SI units to number of units.
    #[inline(always)]
    pub fn from_si(self, si: f64) -> f64 {
        match self {
            Scale::Direct(k) => si / k,
            Scale::Inverse(k) => k / si,
            Scale::Affine(k, o) => (si - o) / k,
        }
    }
}

/// A unit of dimension `D`, with the name it is printed and typed by.
pub struct Unit<D> {
    pub name: &'static str,
    pub scale: Scale,
    dimension: PhantomData<D>,
}

impl<D> Unit<D> {
    pub const fn direct(name: &'static str, si: f64) -> Self {
        Unit { name, scale: Scale::Direct(si), dimension: PhantomData }
    }
    pub const fn inverse(name: &'static str, si: f64) -> Self {
        Unit { name, scale: Scale::Inverse(si), dimension: PhantomData }
    }
    pub const fn affine(name: &'static str, factor: f64, offset: f64) -> Self {
        Unit { name, scale: Scale::Affine(factor, offset), dimension: PhantomData }
    }
    #[inline(always)]
    pub fn to_si(&self, value: f64) -> f64 {
        self.scale.to_si(value)
    }
    #[inline(always)]
    pub fn from_si(&self, si: f64) -> f64 {
        self.scale.from_si(si)
    }
}

/// A unit with its dimension's type gone, for tables and text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnyUnit {
    pub name: &'static str,
    pub scale: Scale,
}

/// A dimension: its name in the house's words and every unit it may be written in, the SI-nearest first.
pub trait Dimension: Sized + Send + Sync + 'static {
    /// Which entry of [`Kind::ALL`] this is.
    const KIND: Kind;
}

macro_rules! dimensions {
    ($($(#[$doc:meta])* $dim:ident $words:literal { $($unit:ident = $how:ident $name:literal ($($si:expr),+);)* })*) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq)]
            pub enum $dim {}
            impl Dimension for $dim { const KIND: Kind = Kind::$dim; }
            $(pub static $unit: Unit<$dim> = Unit::$how($name, $($si),+);)*
        )*
        /// The dimensions as values, for tables that hold quantities of many kinds.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Kind { $($dim),* }
        impl Kind {
            /// All dimensions.
            pub const ALL: &'static [Kind] = &[$(Kind::$dim),*];
            /// What a message calls it: "a length".
            pub fn words(self) -> &'static str {
                match self { $(Kind::$dim => $words),* }
            }
            /// Every unit this dimension may be written in.
            pub fn units(self) -> &'static [AnyUnit] {
                match self { $(Kind::$dim => {
                    static UNITS: &[AnyUnit] = &[$(AnyUnit { name: $unit.name, scale: $unit.scale }),*];
                    UNITS
                }),* }
            }
        }
    };
}

/// One turn per inch at one English cotton count, as turns per metre times the root of kg/m: (1/0.0254) × √(0.453 592 37 /
/// (840 × 0.9144)). Per root of tex it is the trade's factor 956.7.
const TM_SI: f64 = 0.956734427219118;
/// One turn per metre at one metric count: the root of a gram per metre.
const ALPHA_M_SI: f64 = 0.03162277660168379;

dimensions! {
    /// A share of something, or a pure number that is not a count of things.
    Ratio "a share" { ONE = direct "" (1.0); PERCENT = direct "%" (0.01); }
    /// A number of things.
    Number "a number" { EACH = direct "" (1.0); }
    /// Metres.
    Length "a length" {
        M = direct "m" (1.0); CM = direct "cm" (1e-2); MM = direct "mm" (1e-3); UM = direct "um" (1e-6); KM = direct "km" (1e3);
        INCH = direct "in" (0.0254); FOOT = direct "ft" (0.3048); YARD = direct "yd" (0.9144);
    }
    /// Square metres.
    Area "an area" { M2 = direct "m2" (1.0); CM2 = direct "cm2" (1e-4); YD2 = direct "yd2" (0.836_127_36); }
    /// Cubic metres.
    Volume "a volume" { LITRE = direct "l" (1e-3); ML = direct "ml" (1e-6); CM3 = direct "cm3" (1e-6); }
    /// Volume laid on an area, in metres; printed as cm3 per m2.
    AreaVolume "a volume per area" { CM3_M2 = direct "cm3/m2" (1e-6); }
    /// Kilograms.
    Mass "a mass" {
        KG = direct "kg" (1.0); G = direct "g" (1e-3); MG = direct "mg" (1e-6);
        LB = direct "lb" (0.453_592_37); OZ = direct "oz" (0.028_349_523_125);
    }
    /// Kilograms per metre: yarn count and fibre fineness.
    LinearDensity "a yarn count" {
        TEX = direct "tex" (1e-6); DTEX = direct "dtex" (1e-7); MTEX = direct "mtex" (1e-9); KTEX = direct "ktex" (1e-3);
        DEN = direct "den" (1e-3 / 9000.0);
        NE = inverse "Ne" (0.453_592_37 / (840.0 * 0.9144)); NM = inverse "Nm" (1e-3);
        NEL = inverse "NeL" (0.453_592_37 / (300.0 * 0.9144)); NEW = inverse "NeW" (0.453_592_37 / (560.0 * 0.9144));
        RUN = inverse "run" (0.453_592_37 / (1600.0 * 0.9144)); SKEIN = inverse "YSW" (0.453_592_37 / (256.0 * 0.9144));
        M_G = inverse "m/g" (1e-3); YD_LB = inverse "yd/lb" (0.453_592_37 / 0.9144);
    }
    /// Airflow fineness of cotton, in microgram per inch.
    Micronaire "a micronaire value" { MIC = direct "mic" (1.0); }
    /// Kilograms per cubic metre.
    Density "a density" { G_CM3 = direct "g/cm3" (1e3); KG_M3 = direct "kg/m3" (1.0); }
    /// Per metre: setts, picks, twist, mesh.
    PerLength "a number per length" {
        PER_CM = direct "/cm" (100.0); PER_M = direct "/m" (1.0); PER_IN = direct "/in" (39.370_078_740_157_48);
        PER_10CM = direct "/10cm" (10.0);
    }
    /// Per square metre.
    PerArea "a number per area" { PER_M2 = direct "/m2" (1.0); }
    /// Twist times the root of the count, √(kg/m)/m.
    TwistFactor "a twist multiplier" {
        TM = direct "TM" (TM_SI); ALPHA_TEX = direct "alpha_tex" (0.1); ALPHA_M = direct "alpha_m" (ALPHA_M_SI);
    }
    /// Radians.
    Angle "an angle" { RAD = direct "rad" (1.0); DEG = direct "deg" (std::f64::consts::PI / 180.0); }
    /// Kilograms per square metre.
    AreaMass "a mass per area" { G_M2 = direct "g/m2" (1e-3); OZ_YD2 = direct "oz/yd2" (0.028_349_523_125 / 0.836_127_36); }
    /// Newtons.
    Force "a force" { N = direct "N" (1.0); CN = direct "cN" (0.01); GF = direct "gf" (9.806_65e-3); LBF = direct "lbf" (4.448_221_615); }
    /// Force per linear density, N·m/kg.
    Tenacity "a tenacity" { CN_TEX = direct "cN/tex" (1e4); N_TEX = direct "N/tex" (1e6); GF_TEX = direct "gf/tex" (9.806_65e3); }
    /// Newtons per metre of width.
    LineLoad "a load per length" { N_MM = direct "N/mm" (1e3); N_M = direct "N/m" (1.0); }
    /// Pascals.
    Stress "a stress" { MPA = direct "MPa" (1e6); GPA = direct "GPa" (1e9); PSI = direct "psi" (6_894.757_293); }
    /// Fourth power of metres.
    SecondMoment "a second moment of area" { MM4 = direct "mm4" (1e-12); }
    /// Third power of metres.
    SectionModulus "a section modulus" { MM3 = direct "mm3" (1e-9); }
    /// Newton metres.
    Torque "a torque" { MN_M = direct "mN·m" (1e-3); NEWTON_M = direct "N·m" (1.0); }
    /// Radians per second.
    Rotation "a speed of rotation" { RPM = direct "rpm" (std::f64::consts::PI / 30.0); RAD_S = direct "rad/s" (1.0); }
    /// Metres per second.
    Speed "a speed" { M_MIN = direct "m/min" (1.0 / 60.0); M_H = direct "m/h" (1.0 / 3600.0); M_S = direct "m/s" (1.0); YD_H = direct "yd/h" (0.9144 / 3600.0); }
    /// Volts.
    Voltage "a voltage" { VOLT = direct "V" (1.0); }
    /// Amperes.
    Current "a current" { AMP = direct "A" (1.0); MA = direct "mA" (1e-3); }
    /// Ohms.
    Resistance "a resistance" { OHM = direct "ohm" (1.0); }
    /// Volt seconds per radian, the same number as newton metres per ampere.
    MotorConstant "a motor constant" { V_S = direct "V·s/rad" (1.0); }
    /// Watts.
    Power "a power" { WATT = direct "W" (1.0); }
    /// Seconds.
    Duration "a time" { HOUR = direct "h" (3600.0); MINUTE = direct "min" (60.0); SECOND = direct "s" (1.0); DAY = direct "d" (86_400.0); }
    /// Kilograms per second of work.
    MassRate "a mass per time" { G_H = direct "g/h" (1e-3 / 3600.0); LB_D = direct "lb/d" (0.453_592_37 / 86_400.0); }
    /// Per second of work.
    Rate "a number per time" { PER_H = direct "/h" (1.0 / 3600.0); PER_MIN = direct "/min" (1.0 / 60.0); }
    /// Kelvin, read in degrees.
    Temperature "a temperature" { DEG_C = affine "°C" (1.0, 273.15); DEG_F = affine "°F" (5.0 / 9.0, 459.67 * 5.0 / 9.0); }
    /// Kelvin days.
    HeatSum "a sum of heat units" { DD_F = direct "DD60" (5.0 / 9.0); DD_C = direct "°C-d" (1.0); }
    /// A price, in whatever money the plan names.
    Money "a price" { COIN = direct "" (1.0); }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_the_same_yarn() {
        let yarn = Q::new(20.0, &TEX);
        assert!((yarn.get(&NE) - 29.527).abs() < 1e-3);
        assert!((yarn.get(&DEN) - 180.0).abs() < 1e-9);
        assert!((yarn.get(&NM) - 50.0).abs() < 1e-9);
    }

    #[test]
    fn a_multiplier_of_four_is_alpha_38() {
        let factor = Q::new(4.0, &TM);
        assert!((factor.get(&ALPHA_TEX) - 38.27).abs() < 0.01, "{}", factor.get(&ALPHA_TEX));
        assert!((factor.get(&ALPHA_M) - 121.0).abs() < 0.1, "{}", factor.get(&ALPHA_M));
    }

    #[test]
    fn freezing_water() {
        assert!((Q::new(32.0, &DEG_F).get(&DEG_C)).abs() < 1e-9);
    }
}
