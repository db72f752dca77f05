//! Closed paths of an SVG file in millimetres. The file must state its size in mm, cm or in. Scripts, entities, links,
//! pictures and copied shapes are refused before the file is parsed; nothing outside the bytes is ever opened.

use kurbo::{Affine, BezPath, Point};
use usvg::tiny_skia_path::PathSegment;

/// Greatest file, bytes.
const BYTES_MOST: usize = 2_000_000;
/// Most elements, and deepest nesting.
const ELEMENTS_MOST: usize = 20_000;
const DEEPEST: usize = 48;
/// Millimetres in a pixel of the format.
const PIXEL: f64 = 25.4 / 96.0;

/// Every path drawn in the file, mm, y down.
pub(super) fn read(bytes: &[u8]) -> Result<Vec<BezPath>, String> {
    if bytes.len() > BYTES_MOST {
        return Err(format!("the file holds {} kB: {} kB is the most", bytes.len() / 1000, BYTES_MOST / 1000));
    }
    let text = std::str::from_utf8(bytes).map_err(|_| "the file is not an SVG text in UTF-8".to_string())?;
    sane(text)?;
    let options = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    let tree =
        usvg::Tree::from_str(text, &options).map_err(|e| format!("the file is not an SVG that can be read: {e}"))?;
    let mut paths = Vec::new();
    collect(tree.root(), &mut paths);
    if paths.is_empty() {
        return Err("the file draws no path: words and pictures are not outlines".into());
    }
    Ok(paths)
}

fn collect(group: &usvg::Group, into: &mut Vec<BezPath>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => collect(inner, into),
            usvg::Node::Path(path) if path.is_visible() => {
                let t = path.abs_transform();
                let map = [t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from);
                parts(path.data(), Affine::scale(PIXEL) * Affine::new(map), into);
            }
            _ => {}
        }
    }
}

fn parts(data: &usvg::tiny_skia_path::Path, map: Affine, into: &mut Vec<BezPath>) {
    let p = |q: usvg::tiny_skia_path::Point| map * Point::new(f64::from(q.x), f64::from(q.y));
    let mut path = BezPath::new();
    let mut first = Point::ZERO;
    let mut flush = |path: &mut BezPath| {
        if path.elements().len() > 1 {
            into.push(std::mem::take(path));
        } else {
            path.truncate(0);
        }
    };
    for segment in data.segments() {
        match segment {
            PathSegment::MoveTo(a) => {
                flush(&mut path);
                first = p(a);
                path.move_to(first);
            }
            PathSegment::LineTo(a) => path.line_to(p(a)),
            PathSegment::QuadTo(a, b) => path.quad_to(p(a), p(b)),
            PathSegment::CubicTo(a, b, c) => path.curve_to(p(a), p(b), p(c)),
            PathSegment::Close => {
                if path.current_position().is_some_and(|at| at.distance(first) > 1e-6) {
                    path.line_to(first);
                }
                flush(&mut path);
                path.move_to(first);
            }
        }
    }
    flush(&mut path);
}

/// Reads the tags without parsing: refuses what could run, fetch, or grow, and a drawing without a scale.
fn sane(text: &str) -> Result<(), String> {
    let (mut depth, mut count, mut scaled) = (0usize, 0usize, false);
    let mut rest = text;
    while let Some(open) = rest.find('<') {
        rest = &rest[open..];
        let skip = |end: &str| rest.find(end).map(|i| i + end.len()).ok_or("the file ends inside a tag");
        let long = if rest.starts_with("<!--") {
            skip("-->")?
        } else if rest.starts_with("<![CDATA[") {
            skip("]]>")?
        } else if rest.starts_with("<?") {
            skip("?>")?
        } else if rest.starts_with("<!") {
            let long = skip(">")?;
            if rest[..long].contains('[') || rest[..long].contains("ENTITY") {
                return Err("the file defines entities: save it as plain SVG".into());
            }
            long
        } else {
            let long = tag_length(rest).ok_or("the file ends inside a tag")?;
            let tag = &rest[1..long - 1];
            if tag.starts_with('/') {
                depth = depth.saturating_sub(1);
            } else {
                count += 1;
                depth += usize::from(!tag.ends_with('/'));
                allowed(tag)?;
                if count == 1 {
                    scaled = true_size(tag);
                }
            }
            long
        };
        if depth > DEEPEST || count > ELEMENTS_MOST {
            return Err(format!(
                "the file holds more than {ELEMENTS_MOST} elements or nests them more than {DEEPEST} deep"
            ));
        }
        rest = &rest[long..];
    }
    match (count, scaled) {
        (0, _) => Err("the file holds no SVG".into()),
        (_, false) => Err("the file has no scale: give its root a width and a height in mm, cm or in".into()),
        _ => Ok(()),
    }
}

/// Length of a tag with its brackets; a bracket inside quotes does not end it.
fn tag_length(text: &str) -> Option<usize> {
    let mut quote = None;
    for (i, b) in text.bytes().enumerate() {
        match (quote, b) {
            (None, b'"' | b'\'') => quote = Some(b),
            (Some(q), b) if q == b => quote = None,
            (None, b'>') => return Some(i + 1),
            _ => {}
        }
    }
    None
}

fn allowed(tag: &str) -> Result<(), String> {
    let name = tag.split(|c: char| c.is_whitespace() || c == '/').next().unwrap_or("");
    let local = name.rsplit(':').next().unwrap_or(name);
    match local {
        "script" | "foreignObject" | "handler" | "listener" => {
            return Err(format!("the file holds a <{local}>: it draws nothing and is not taken; save it as plain SVG"));
        }
        "use" | "symbol" | "pattern" | "marker" => {
            return Err(format!("the file holds a <{local}>: turn copies into paths of their own first"));
        }
        "image" | "feImage" => return Err("the file holds a picture: trace its outline as a path first".into()),
        _ => {}
    }
    for (key, value) in attributes(tag) {
        let local = key.rsplit(':').next().unwrap_or(key);
        let runs = local.len() > 2 && local.starts_with("on") && local.bytes().all(|b| b.is_ascii_lowercase());
        if runs || value.trim_start().to_ascii_lowercase().starts_with("javascript:") {
            return Err("the file holds a script: save it as plain SVG".into());
        }
    }
    Ok(())
}

/// Names and values in a tag.
fn attributes(tag: &str) -> impl Iterator<Item = (&str, &str)> {
    let mut rest = tag;
    std::iter::from_fn(move || {
        let equals = rest.find('=')?;
        let key = rest[..equals].trim_end().rsplit(char::is_whitespace).next().unwrap_or("");
        let after = rest[equals + 1..].trim_start();
        let quote = after.chars().next().filter(|c| *c == '"' || *c == '\'')?;
        let end = after[1..].find(quote)?;
        let value = &after[1..=end];
        rest = &after[end + 2..];
        Some((key, value))
    })
}

/// Whether the root's size is in units of length.
fn true_size(tag: &str) -> bool {
    let measured = |wanted: &str| {
        attributes(tag).any(|(key, value)| {
            let value = value.trim();
            let unit = ["mm", "cm", "in"].iter().find_map(|u| value.strip_suffix(u));
            key == wanted && unit.and_then(|n| n.trim().parse::<f64>().ok()).is_some_and(|n| n > 0.0 && n < 1e6)
        })
    };
    measured("width") && measured("height")
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    fn file(size: &str, body: &str) -> String {
        format!(
            r#"<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 200 300">{body}</svg>"#
        )
    }
    const SIZE: &str = r#"width="200mm" height="300mm""#;

    #[test]
    fn a_rectangle_has_its_true_size() {
        let body = r##"<g transform="translate(10 20)"><path d="M0 0H100V150H0Z" fill="#000"/></g>"##;
        let paths = read(file(SIZE, body).as_bytes()).unwrap();
        assert_eq!(paths.len(), 1);
        let b = paths[0].bounding_box();
        assert!((b.width() - 100.0).abs() < 1e-3 && (b.height() - 150.0).abs() < 1e-3 && (b.x0 - 10.0).abs() < 1e-3);
        let inches = read(file(r#"width="2in" height="3in""#, body).as_bytes()).unwrap();
        assert!((inches[0].bounding_box().width() - 25.4).abs() < 1e-3);
    }

    #[test]
    fn what_runs_fetches_grows_or_has_no_scale_is_refused() {
        let path = r#"<path d="M0 0H100V150H0Z"/>"#;
        let deep = format!("{}{path}{}", "<g>".repeat(60), "</g>".repeat(60));
        for (text, word) in [
            (file(SIZE, &format!("<script>1</script>{path}")), "script"),
            (file(SIZE, &format!(r#"<g onload="x()">{path}</g>"#)), "script"),
            (file(SIZE, &format!(r#"<a href=" JavaScript:x()">{path}</a>"#)), "script"),
            (file(SIZE, r##"<g id="a"/><use href="#a"/>"##), "copies"),
            (file(SIZE, r#"<image href="/etc/hostname"/>"#), "picture"),
            (file("", path), "scale"),
            (file(r#"width="200" height="300""#, path), "scale"),
            (file(r#"width="100%" height="300mm""#, path), "scale"),
            (file(SIZE, &deep), "deep"),
            (file(SIZE, "<text>front</text>"), "no path"),
            (r#"<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg width="1mm" height="1mm">&a;</svg>"#.to_string(), "entities"),
            ("<svg width=\"1mm\" height=\"1mm\"".to_string(), "inside a tag"),
            ("no drawing".to_string(), "no SVG"),
        ] {
            let error = read(text.as_bytes()).unwrap_err();
            assert!(error.contains(word), "{error} for {text}");
        }
        assert!(read(&[0xff, 0xfe, 0x00]).unwrap_err().contains("UTF-8"));
        assert!(read(&vec![b' '; BYTES_MOST + 1]).unwrap_err().contains("kB"));
    }
}
