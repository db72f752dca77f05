//! What a plan asks to be drafted: kind, body, ease, seams, print, pieces of its own.

use super::cloth::Woven;
use crate::diag::Diagnostic;
use crate::garment::{
    self, Body, EaseWish, Finished, FreePiece, HandleWish, Kind, NeckStyle, NeckWish, Outline, PrintWish, SeamKind,
    SewWish, SleeveWish, Wish,
};
use crate::plan::{PieceWish, Plan};
use crate::trade::body::Part;
use crate::units::show::Style;
use crate::units::*;

/// The wish of a plan.
pub(super) fn wish(plan: &Plan, woven: &Woven, found: &mut Vec<Diagnostic>) -> Option<Wish> {
    let straight = plan.choice("garment.cut") == Some("straight");
    let kind = match plan.choice("garment.kind")? {
        "tee" if straight => Kind::TeeStraight,
        "tee" => Kind::TeeShaped,
        "tote" => Kind::Tote,
        "apron" => Kind::Apron,
        "towel" => Kind::Towel,
        "scarf" => Kind::Scarf,
        _ => Kind::Pieces,
    };
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let mut wish = Wish::of(kind);
    wish.how_many = plan.whole("garment.how_many").unwrap_or(1);
    wish.body = measured(plan);
    wish.ease = EaseWish {
        chest: length("garment.ease.chest"),
        hip: length("garment.ease.hip"),
        upper_arm: length("garment.ease.upper_arm"),
    };
    wish.length = length("garment.length");
    wish.sleeve = match (length("garment.sleeve.length"), plan.choice("garment.sleeve.length")) {
        (Some(length), _) => SleeveWish::At(length),
        (None, Some("long")) => SleeveWish::Long,
        _ => SleeveWish::Short,
    };
    wish.neck = neck(plan);
    wish.sew = sew(plan);
    wish.gusset = length("garment.gusset");
    wish.slit = length("garment.neck.slit");
    wish.facing = length("garment.facing");
    wish.cuff = length("garment.sleeve.opening");
    wish.fringe = length("garment.finished.fringe");
    if let Some(left) = plan.quantity::<Ratio>("cloth.later_shrink") {
        wish.residual_shrink = left.middle;
    }
    if let (Some(width), Some(long)) = (length("garment.finished.width"), length("garment.finished.length")) {
        wish.finished = Some(Finished { width, length: long, depth: length("garment.finished.depth") });
    }
    wish.handles = HandleWish { length: length("garment.handles.length"), width: length("garment.handles.width") };
    wish.lining = plan.flag("garment.lining").unwrap_or(false);
    wish.pocket = plan.flag("garment.pocket").unwrap_or(false);
    wish.one_way = plan.flag("garment.one_way").unwrap_or(false);
    wish.stripes = super::stripes::wished(plan, woven, found);
    wish.pieces = plan.pieces().iter().filter_map(|piece| free_piece(plan, piece, found)).collect();
    wish.print = print(plan);
    wish.inches = plan.style() == Style::Inch;
    Some(wish)
}

fn measured(plan: &Plan) -> Body {
    let mut body = Body::default();
    if let Some((group, percentile)) = plan.usual_size() {
        body.like = Some(group);
        body.percentile = Some(percentile);
    }
    for part in Part::ALL {
        if let Some(stated) = plan.quantity::<Length>(&format!("garment.body.{}", part.describe().key)) {
            body.measured.insert(part, stated.middle);
        }
    }
    body
}

fn neck(plan: &Plan) -> NeckWish {
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let style = plan.choice("garment.neck.style");
    NeckWish {
        style: NeckStyle::ALL.into_iter().find(|neck| Some(neck.word()) == style),
        width: length("garment.neck.width"),
        front_depth: length("garment.neck.front_depth"),
        back_depth: length("garment.neck.back_depth"),
    }
}

fn sew(plan: &Plan) -> SewWish {
    let length = |path: &str| plan.quantity::<Length>(path).map(|stated| stated.middle);
    let kind = plan.choice("garment.seam.kind");
    SewWish {
        seams: SeamKind::ALL.into_iter().find(|seam| Some(seam.word()) == kind).unwrap_or_default(),
        allowance: length("garment.seam.allowance"),
        hem: length("garment.hem"),
        // decided before the cloth is: a hand-woven cloth frays until it is proved close
        open_cloth: true,
    }
}

fn print(plan: &Plan) -> Option<PrintWish> {
    let width = plan.quantity::<Length>("print.width")?.middle;
    let shape = || super::print::shape(plan).unwrap_or(1.0);
    let height = plan.quantity::<Length>("print.height").map_or_else(|| width * shape(), |height| height.middle);
    let below = plan.quantity::<Length>("print.place.below_neck").map(|below| below.middle);
    let across = plan.quantity::<Length>("print.place.across").map(|across| across.middle);
    Some(PrintWish {
        piece: plan.text("print.place.piece").unwrap_or("front").to_string(),
        width,
        height,
        below,
        across,
    })
}

fn free_piece(plan: &Plan, piece: &PieceWish, found: &mut Vec<Diagnostic>) -> Option<FreePiece> {
    let outline = match (&piece.outline, piece.width, piece.length) {
        (Some(name), _, _) => {
            let bytes = plan.file(name)?.to_vec();
            if name.to_lowercase().ends_with(".dxf") { Outline::Dxf(bytes) } else { Outline::Svg(bytes) }
        }
        (None, Some(width), Some(length)) => Outline::Rectangle { width: width.middle, length: length.middle },
        _ => {
            let words = format!("piece `{}` has neither an outline nor a width and a length", piece.name);
            found.push(Diagnostic::error("piece", words).at(Some(piece.span.clone())));
            return None;
        }
    };
    let allowance = match (&outline, piece.allowance) {
        (_, Some(stated)) => Some(stated.middle),
        (Outline::Rectangle { .. }, None) => Some(Q::new(garment::rules::ALLOWANCE, &MM)),
        _ => None,
    };
    Some(FreePiece { name: piece.name.clone(), outline, how_many: piece.how_many, pairs: piece.pairs, allowance })
}
