//! The cutting table: where every copy lies just now, overlaps allowed, what each overlap costs, and what it would cost to
//! put a copy elsewhere. Whether two pieces collide is the engine's word; how badly is reckoned from their poles.

use super::grid::{Box4, Grid};
use super::job::Steps;
use super::lot::{Form, LANES, Lot, Poles};
use jagua_rs::collision_detection::hazards::collector::HazardCollector;
use jagua_rs::collision_detection::hazards::filter::HazardFilter;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard, HazardEntity};
use jagua_rs::collision_detection::{CDEConfig, CDEngine};
use jagua_rs::geometry::Transformation;
use jagua_rs::geometry::fail_fast::SPSurrogateConfig;
use jagua_rs::geometry::geo_enums::GeoPosition;
use jagua_rs::geometry::geo_traits::TransformableFrom;
use jagua_rs::geometry::primitives as engine;
use std::sync::Arc;

/// Depth of the engine's tree of squares, and the number of edges below which it stops descending.
const DEPTH: u8 = 4;
const FEW_EDGES: u8 = 16;

/// Where a copy lies: which form, and where the form's least corner is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    pub form: usize,
    pub x: f32,
    pub y: f32,
}

/// The box of a copy not laid.
const GONE: Box4 = (f32::INFINITY, f32::INFINITY, f32::NEG_INFINITY, f32::NEG_INFINITY);

/// What fills the engine's space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Occupant {
    Copy(usize),
    /// All that is outside: far off, since copies are kept on the cloth by their range of places.
    Outside,
}

impl HazardEntity for Occupant {
    fn scope(&self) -> GeoPosition {
        match self {
            Occupant::Copy(_) => GeoPosition::Interior,
            Occupant::Outside => GeoPosition::Exterior,
        }
    }
    fn is_dynamic(&self) -> bool {
        matches!(self, Occupant::Copy(_))
    }
}

/// Looks only at copies whose case is still open.
struct Open<'a>(&'a [bool]);

impl HazardFilter<Occupant> for Open<'_> {
    fn is_irrelevant(&self, _: HazKey, entity: &Occupant) -> bool {
        match entity {
            Occupant::Copy(j) => !self.0[*j],
            Occupant::Outside => true,
        }
    }
}

/// The few copies hit by one query.
#[derive(Clone, Debug, Default)]
struct Hits(Vec<(HazKey, Occupant)>);

impl HazardCollector for Hits {
    type Entity = Occupant;
    fn contains_key(&self, key: HazKey) -> bool {
        self.0.iter().any(|(k, _)| *k == key)
    }
    fn insert(&mut self, key: HazKey, entity: Occupant) {
        self.0.push((key, entity));
    }
    fn remove_by_key(&mut self, key: HazKey) {
        self.0.retain(|(k, _)| *k != key);
    }
    fn len(&self) -> usize {
        self.0.len()
    }
    fn iter(&self) -> impl Iterator<Item = (HazKey, &Occupant)> {
        self.0.iter().map(|(k, e)| (*k, e))
    }
}

#[derive(Clone)]
pub(super) struct Table<'a> {
    pub lot: &'a Lot,
    /// Length of cloth the copies must keep to.
    pub length: f32,
    spots: Vec<Option<Spot>>,
    boxes: Vec<Box4>,
    grid: Grid,
    engine: CDEngine<Occupant>,
    /// Cost of each pair's overlap, by row, both ways; 0 where there is none.
    costs: Vec<f32>,
    /// How much each pair's overlap counts, by row, both ways; at least 1.
    weights: Vec<f32>,
    /// One moving polygon a form, so that a query allocates nothing.
    moving: Vec<engine::SPolygon>,
    near: Vec<usize>,
    open: Vec<bool>,
    hits: Hits,
    /// Queries made.
    pub evaluations: u64,
}

impl<'a> Table<'a> {
    /// An empty table, `room` long at most.
    pub fn new(lot: &'a Lot, room: f32) -> Self {
        let n = lot.copies.len();
        let rim = lot.width.max(room) * 0.01;
        let rect = |m: f32| engine::Rect { x_min: -m, y_min: -m, x_max: room + m, y_max: lot.width + m };
        let outside = Hazard::new(Occupant::Outside, Arc::new(engine::SPolygon::from(rect(3.0 * rim))));
        let config = CDEConfig {
            quadtree_depth: DEPTH,
            cd_threshold: FEW_EDGES,
            item_surrogate_config: SPSurrogateConfig::none(),
        };
        Table {
            lot,
            length: room,
            spots: vec![None; n],
            boxes: vec![GONE; n],
            grid: Grid::new(n, room, (0.0, lot.width)),
            engine: CDEngine::new(rect(rim), vec![outside], config),
            costs: vec![0.0; n * n],
            weights: vec![1.0; n * n],
            moving: lot.forms.iter().map(|f| f.polygon.clone()).collect(),
            near: vec![0; n + 1],
            open: vec![false; n],
            hits: Hits::default(),
            evaluations: 0,
        }
    }

    pub fn len(&self) -> usize {
        self.spots.len()
    }

    pub fn form(&self, spot: Spot) -> &'a Form {
        &self.lot.forms[spot.form]
    }

    pub fn spot(&self, i: usize) -> Option<Spot> {
        self.spots[i]
    }

    /// Where all copies lie; only of a full table.
    pub fn spots(&self) -> Vec<Spot> {
        self.spots.iter().flatten().copied().collect()
    }

    /// How far along the cloth the copies reach.
    pub fn reach(&self) -> f32 {
        (0..self.len()).filter(|i| self.spots[*i].is_some()).map(|i| self.boxes[i].2).fold(0.0, f32::max)
    }

    /// Boxes of the copies laid: least x, least y, greatest x, greatest y.
    pub fn boxes_seen(&self) -> impl Iterator<Item = Box4> + '_ {
        (0..self.len()).filter(|i| self.spots[*i].is_some()).map(|i| self.boxes[i])
    }

    /// The nearest place on the cloth, on its stripes where they are matched.
    pub fn kept_on_cloth(&self, spot: Spot) -> Spot {
        let form = self.form(spot);
        let x = spot.x.min(self.length - form.size.0).max(0.0);
        self.on_stripes(Spot { x, y: spot.y.clamp(form.across.0, form.across.1), ..spot })
    }

    /// The nearest place on the stripes; the place itself where they do not matter. A form that has none on this length of cloth is turned.
    pub fn on_stripes(&self, spot: Spot) -> Spot {
        let mut spot = spot;
        if self.form(spot).steps.0.is_some() && self.steps_along(spot.form).is_none() {
            let fits = |at: &usize| self.steps_along(*at).is_some();
            spot.form = self.form(spot).turns.clone().find(fits).unwrap_or(spot.form);
            spot.y = spot.y.clamp(self.form(spot).across.0, self.form(spot).across.1);
        }
        let form = self.form(spot);
        let x = self.steps_along(spot.form).map_or(spot.x, |steps| steps.nearest(spot.x));
        let y = form.steps.1.map_or(spot.y, |steps| steps.nearest(spot.y));
        Spot { x, y, ..spot }
    }

    /// Places of a form along the cloth as long as it is now; none where stripes do not matter, or the cloth is too short.
    pub fn steps_along(&self, form: usize) -> Option<Steps> {
        let form = &self.lot.forms[form];
        let steps = form.steps.0?;
        // lengths are known in single precision only
        let more = ((f64::from(self.length - form.size.0) - steps.first) / steps.every + 1e-4).floor();
        (more >= 0.0).then_some(Steps { more, ..steps })
    }

    /// Puts copy `i` there, and reckons what it overlaps.
    pub fn put(&mut self, i: usize, spot: Spot) {
        if self.spots[i] == Some(spot) {
            return;
        }
        if self.spots[i].is_some() {
            self.engine.deregister_hazard_by_entity(Occupant::Copy(i));
            self.grid.mark(i, self.boxes[i], false);
        }
        let form = self.form(spot);
        let mut polygon = form.polygon.clone();
        polygon.transform_from(&form.polygon, &Transformation::from_translation((spot.x, spot.y)));
        self.engine.register_hazard(Hazard::new(Occupant::Copy(i), Arc::new(polygon)));
        self.spots[i] = Some(spot);
        self.boxes[i] = (spot.x, spot.y, spot.x + form.size.0, spot.y + form.size.1);
        self.grid.mark(i, self.boxes[i], true);
        let n = self.len();
        for j in 0..n {
            self.costs[i * n + j] = 0.0;
            self.costs[j * n + i] = 0.0;
        }
        self.reckon(i, spot, f32::INFINITY, false);
        for k in 0..self.hits.0.len() {
            if let (_, Occupant::Copy(j)) = self.hits.0[k] {
                let cost = self.pair_cost(spot, j);
                self.costs[i * n + j] = cost;
                self.costs[j * n + i] = cost;
            }
        }
    }

    /// Shortens or lengthens the cloth, moving copies that would stick out back onto it.
    pub fn set_length(&mut self, length: f32) {
        self.length = length;
        for i in 0..self.len() {
            if let Some(spot) = self.spots[i] {
                self.put(i, self.kept_on_cloth(spot));
            }
        }
    }

    /// The weighted cost of copy `i` lying at `spot`; 0 exactly when it touches nothing. As soon as the cost is known to
    /// reach `bound`, some value of at least `bound` is returned.
    pub fn cost(&mut self, i: usize, spot: Spot, bound: f32) -> f32 {
        self.evaluations += 1;
        self.reckon(i, spot, bound, true)
    }

    /// Collects into `hits` what copy `i` would touch at `spot`; see [`Self::cost`].
    fn reckon(&mut self, i: usize, spot: Spot, bound: f32, weighted: bool) -> f32 {
        self.hits.0.clear();
        let form = self.form(spot);
        let (x1, y1) = (spot.x + form.size.0, spot.y + form.size.1);
        let n = self.len();
        let mut found = 0;
        let (boxes, near) = (&self.boxes, &mut self.near);
        self.grid.near((spot.x, spot.y, x1, y1), |j| {
            let b = boxes[j];
            near[found] = j;
            found += usize::from((b.0 < x1) & (b.2 > spot.x) & (b.1 < y1) & (b.3 > spot.y) & (j != i));
        });
        if found == 0 {
            return 0.0;
        }
        let mut total = 0.0;
        let (spots, weights, lot) = (&self.spots, &self.weights, self.lot);
        let mut price = |j: usize| {
            // where any overlap is too much, nobody asks how deep it is
            if bound <= f32::MIN_POSITIVE {
                total = bound;
                return true;
            }
            if weighted && let Some(other) = spots[j] {
                let weight = weights[i * n + j];
                total += weight * overlap(lot, spot, other, (bound - total) / weight);
            }
            total >= bound
        };
        // Where the great poles of two copies meet, no more is needed to know that the copies do.
        let mut open = 0;
        if weighted {
            for k in 0..found {
                let j = self.near[k];
                if spots[j].is_some_and(|other| poles_meet(lot, spot, other)) {
                    if price(j) {
                        return total;
                    }
                } else {
                    self.near[open] = j;
                    open += 1;
                }
            }
        } else {
            open = found;
        }
        if open == 0 {
            return total;
        }
        for k in 0..open {
            self.open[self.near[k]] = true;
        }
        let polygon = &mut self.moving[spot.form];
        polygon.transform_from(&form.polygon, &Transformation::from_translation((spot.x, spot.y)));
        let _ =
            self.engine.collect_poly_collisions_until(polygon, &Open(&self.open), &mut self.hits, |hit| match hit {
                Occupant::Copy(j) => price(j),
                Occupant::Outside => false,
            });
        for k in 0..open {
            self.open[self.near[k]] = false;
        }
        total
    }

    fn pair_cost(&self, spot: Spot, j: usize) -> f32 {
        self.spots[j].map_or(0.0, |other| overlap(self.lot, spot, other, f32::INFINITY))
    }

    /// Weighted cost of copy `i` where it lies.
    pub fn weighted(&self, i: usize) -> f32 {
        let row = i * self.len()..(i + 1) * self.len();
        self.costs[row.clone()].iter().zip(&self.weights[row]).map(|(c, w)| c * w).sum()
    }

    /// Whether copy `i` overlaps anything.
    pub fn collides(&self, i: usize) -> bool {
        self.costs[i * self.len()..(i + 1) * self.len()].iter().any(|c| *c > 0.0)
    }

    /// Cost of all overlaps, each pair once.
    pub fn total(&self) -> f32 {
        self.costs.iter().sum::<f32>() / 2.0
    }

    pub fn reset_weights(&mut self) {
        self.weights.fill(1.0);
    }

    /// Makes the pairs that overlap now count more, the worst most, and lets the others forget.
    pub fn press(&mut self, least: f32, most: f32, forget: f32) {
        let worst = self.costs.iter().copied().fold(f32::MIN_POSITIVE, f32::max);
        for (w, c) in self.weights.iter_mut().zip(&self.costs) {
            let factor = if *c > 0.0 { least + (most - least) * (c / worst) } else { forget };
            *w = (*w * factor).clamp(1.0, 1e20);
        }
    }
}

/// How badly two copies that collide overlap: about the square root of how deep times how wide their poles run into
/// each other, scaled by their size. Never 0. Once it must reach `bound`, some value of at least `bound` is returned.
fn overlap(lot: &Lot, a: Spot, b: Spot, bound: f32) -> f32 {
    let (fa, fb) = (&lot.forms[a.form], &lot.forms[b.form]);
    let eps = 0.01 * fa.diameter.max(fb.diameter);
    let scale = fa.weight * fb.weight;
    let enough = (bound / scale) * (bound / scale) - eps * eps;
    let deep = depth(&fa.poles, fb, (b.x - a.x, b.y - a.y), eps, enough);
    (deep + eps * eps).sqrt() * scale
}

/// Poles further from the other form's box than this many `eps` are left out: what they would add is too little to steer by.
const FAR: f32 = 4.0;

/// Sum over all pairs of poles of depth times the smaller radius, given up once it is `enough`. Poles that do not meet count
/// a little, falling off with their distance, so that the sum has a slope everywhere.
fn depth(a: &Poles, form: &Form, (dx, dy): (f32, f32), eps: f32, enough: f32) -> f32 {
    let b = &form.poles;
    let mut sums = [0.0f32; LANES];
    let eps2 = eps * eps;
    for k in 0..a.len {
        let (px, py, ar) = (a.x[k / LANES][k % LANES] - dx, a.y[k / LANES][k % LANES] - dy, a.r[k / LANES][k % LANES]);
        let (ox, oy) = (px - px.clamp(0.0, form.size.0), py - py.clamp(0.0, form.size.1));
        let near = ar + FAR * eps;
        if ox * ox + oy * oy > near * near {
            continue;
        }
        for ((bx, by), br) in b.x.iter().zip(&b.y).zip(&b.r) {
            for l in 0..LANES {
                let (x, y) = (bx[l] - px, by[l] - py);
                let deep = ar + br[l] - (x * x + y * y).sqrt();
                // Plain comparisons: `max` and `min` would also see to NaN, at a cost.
                let shallow = if deep < eps { deep } else { eps };
                let apart = eps2 / (2.0 * eps - shallow);
                let deep = if deep > apart { deep } else { apart };
                sums[l] += deep * if br[l] < ar { br[l] } else { ar };
            }
        }
        if (sums[0] + sums[1]) + (sums[2] + sums[3]) >= enough {
            break;
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3])
}

/// Whether any of the largest poles of two copies meet, which proves that the copies do.
fn poles_meet(lot: &Lot, a: Spot, b: Spot) -> bool {
    let (a_, b_) = (&lot.forms[a.form].poles, &lot.forms[b.form].poles);
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (ax, ay, ar) = (&a_.x[0], &a_.y[0], &a_.r[0]);
    let (bx, by, br) = (&b_.x[0], &b_.y[0], &b_.r[0]);
    let mut meet = false;
    for k in 0..LANES {
        for l in 0..LANES {
            let (x, y, r) = (bx[l] + dx - ax[k], by[l] + dy - ay[k], br[l] + ar[k]);
            meet |= x * x + y * y < r * r * 0.999_99;
        }
    }
    meet
}
