//! Lines and curves of a DXF text file in millimetres, y turned down, joined end to end. The file must state its unit.
//! Bounded before it is parsed: bytes, and the pairs of lines it is made of.

use super::super::curve;
use super::GAP;
use ::dxf::Drawing;
use ::dxf::entities::EntityType;
use ::dxf::enums::Units;
use kurbo::{Affine, Arc, BezPath, Point, Shape, Vec2};

/// Greatest file, bytes.
const BYTES_MOST: usize = 4_000_000;
/// Most lines and curves.
const ENTITIES_MOST: usize = 4_000;
/// Accuracy of an arc, mm.
const ARC: f64 = 1e-3;

/// Every line drawn in the file, mm, y down, joined where ends meet.
pub(super) fn read(bytes: &[u8]) -> Result<Vec<BezPath>, String> {
    if bytes.len() > BYTES_MOST {
        return Err(format!("the file holds {} kB: {} kB is the most", bytes.len() / 1000, BYTES_MOST / 1000));
    }
    sane(bytes)?;
    let mut reader = std::io::Cursor::new(bytes);
    let drawing = Drawing::load(&mut reader).map_err(|e| format!("the file is not a DXF that can be read: {e}"))?;
    let unit = millimetres(drawing.header.default_drawing_units)?;
    let mut paths = Vec::new();
    for (i, entity) in drawing.entities().enumerate() {
        if i >= ENTITIES_MOST {
            return Err(format!("the file holds more than {ENTITIES_MOST} lines: simplify it"));
        }
        if let Some(path) = path(&entity.specific)? {
            paths.push(path);
        }
    }
    if paths.is_empty() {
        return Err("the file draws no line".into());
    }
    let map = Affine::scale_non_uniform(unit, -unit);
    let paths: Vec<BezPath> = paths.into_iter().map(|p| map * p).filter(|p| p.segments().next().is_some()).collect();
    if paths.iter().any(|p| !p.is_finite()) {
        return Err("the file has a coordinate that is not a number".into());
    }
    Ok(joined(paths))
}

/// Text of whole pairs: a number of a group, then its value.
fn sane(bytes: &[u8]) -> Result<(), String> {
    let bad = || "the file is not a DXF text (a binary one is not taken)".to_string();
    let text = std::str::from_utf8(bytes).map_err(|_| bad())?;
    if text.contains('\0') {
        return Err(bad());
    }
    let mut lines = text.lines();
    let mut pairs = 0usize;
    while let Some(code) = lines.next() {
        if code.trim().is_empty() && lines.clone().all(|l| l.trim().is_empty()) {
            break;
        }
        code.trim().parse::<i16>().map_err(|_| bad())?;
        lines.next().ok_or_else(bad)?;
        pairs += 1;
    }
    if pairs == 0 { Err(bad()) } else { Ok(()) }
}

fn millimetres(unit: Units) -> Result<f64, String> {
    match unit {
        Units::Millimeters => Ok(1.0),
        Units::Centimeters => Ok(10.0),
        Units::Decimeters => Ok(100.0),
        Units::Meters => Ok(1000.0),
        Units::Inches => Ok(25.4),
        Units::Feet => Ok(304.8),
        Units::Unitless => Err("the file has no scale: set its unit ($INSUNITS) to millimetres".into()),
        _ => Err("the unit of the file is not one for cloth: set it to millimetres".into()),
    }
}

fn path(entity: &EntityType) -> Result<Option<BezPath>, String> {
    let p = |q: &::dxf::Point| Point::new(q.x, q.y);
    Ok(match entity {
        EntityType::Line(line) => Some(curve::straight(p(&line.p1), p(&line.p2))),
        EntityType::LwPolyline(line) => {
            let corners: Vec<(Point, f64)> = line.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge)).collect();
            Some(bulged(&corners, line.is_closed()))
        }
        EntityType::Polyline(line) => {
            let corners: Vec<(Point, f64)> = line.vertices().map(|v| (p(&v.location), v.bulge)).collect();
            Some(bulged(&corners, line.is_closed()))
        }
        EntityType::Arc(arc) => {
            let sweep = (arc.end_angle - arc.start_angle).rem_euclid(360.0);
            Some(round(p(&arc.center), arc.radius, arc.start_angle.to_radians(), sweep.to_radians()))
        }
        EntityType::Circle(circle) => Some(round(p(&circle.center), circle.radius, 0.0, std::f64::consts::TAU)),
        EntityType::Spline(_) | EntityType::Ellipse(_) | EntityType::Insert(_) | EntityType::Helix(_) => {
            return Err("the file holds splines, ellipses or blocks: save its outline as polylines and arcs".into());
        }
        _ => None,
    })
}

fn round(centre: Point, radius: f64, from: f64, sweep: f64) -> BezPath {
    if !(radius > 0.0 && radius < 1e6 && sweep.abs() > 0.0 && from.is_finite()) {
        return BezPath::new();
    }
    Arc::new(centre, Vec2::new(radius, radius), from, sweep, 0.0).to_path(ARC)
}

/// A polyline whose sides may bulge: the tangent of a quarter of the side's angle.
fn bulged(corners: &[(Point, f64)], closed: bool) -> BezPath {
    let n = corners.len();
    let mut sides = Vec::new();
    for i in 0..if closed { n } else { n.saturating_sub(1) } {
        let ((a, bulge), (b, _)) = (corners[i], corners[(i + 1) % n]);
        if a.distance(b) < 1e-9 {
            continue;
        }
        if bulge.abs() < 1e-9 || !bulge.is_finite() || bulge.abs() > 1e3 {
            sides.push(curve::straight(a, b));
            continue;
        }
        let sweep = 4.0 * libm::atan(bulge);
        let chord = b - a;
        let radius = 0.5 * chord.hypot() / libm::sin(0.5 * sweep);
        let centre = a.midpoint(b) + Vec2::new(-chord.y, chord.x) * (0.5 / libm::tan(0.5 * sweep));
        let from = libm::atan2(a.y - centre.y, a.x - centre.x);
        sides.push(round(centre, radius.abs(), from, sweep));
    }
    curve::chained(&sides)
}

/// Paths whose ends meet become one.
fn joined(mut loose: Vec<BezPath>) -> Vec<BezPath> {
    let mut whole = Vec::new();
    while let Some(mut path) = loose.pop() {
        while curve::start(&path).distance(curve::end(&path)) > GAP {
            let end = curve::end(&path);
            let next =
                loose.iter().position(|p| curve::start(p).distance(end) <= GAP || curve::end(p).distance(end) <= GAP);
            let Some(next) = next else { break };
            let other = loose.swap_remove(next);
            let other = if curve::start(&other).distance(end) <= GAP { other } else { curve::reversed(&other) };
            path = curve::chained([&path, &other]);
        }
        whole.push(path);
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(unit: &str, entities: &str) -> String {
        format!(
            "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
        )
    }
    fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> String {
        format!("0\nLINE\n8\n0\n10\n{x0}\n20\n{y0}\n11\n{x1}\n21\n{y1}\n")
    }

    #[test]
    fn loose_lines_join_to_a_rectangle_in_millimetres() {
        let body =
            [line(0., 0., 10., 0.), line(10., 20., 10., 0.), line(10., 20., 0., 20.), line(0., 0., 0., 20.)].concat();
        let paths = read(file("5", &body).as_bytes()).unwrap();
        assert_eq!(paths.len(), 1);
        let b = paths[0].bounding_box();
        assert!((b.width() - 100.0).abs() < 1e-9 && (b.height() - 200.0).abs() < 1e-9 && b.y0 < -199.0);
    }

    #[test]
    fn a_bulge_of_one_is_half_a_circle() {
        let body = "0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n0\n20\n0\n42\n1\n10\n100\n20\n0\n42\n1\n";
        let paths = read(file("4", body).as_bytes()).unwrap();
        let area = paths[0].area().abs();
        assert!((area - std::f64::consts::PI * 2500.0).abs() < 1.0, "{area}");
    }

    #[test]
    fn no_unit_binary_splines_and_nonsense_are_refused() {
        for (text, word) in [
            (file("0", &line(0., 0., 1., 1.)), "scale"),
            (file("20", &line(0., 0., 1., 1.)), "unit"),
            (file("4", "0\nSPLINE\n8\n0\n"), "splines"),
            (file("4", ""), "no line"),
            ("not a drawing".to_string(), "not a DXF"),
            ("0\n".to_string(), "not a DXF"),
            (String::new(), "not a DXF"),
            ("0\nSECTION\0\n".to_string(), "not a DXF"),
        ] {
            let error = read(text.as_bytes()).unwrap_err();
            assert!(error.contains(word), "{error} for {text}");
        }
    }
}
