//! Films: PDF pages in black on clear, true to scale, with the ink's picture as one bit a dot and everything round it as shapes. Written
//! without a library of pages, since those hold no picture of one bit. Knows sheets and plates, no plan; gives the same bytes for the same
//! film, whatever the number of workers.

mod black;
mod pack;

use crate::draw::refused::{LONGEST_PAGE, MOST_PAGES, Refused, side_check};
use crate::draw::sheet::{Anchor, Draw, Line, Rect, Sheet, Type};
use crate::draw::tiles::Tiling;
use crate::draw::title::Paper;
use crate::print::dots::{Raster, Tone};
use crate::print::plate::Plate;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Ref, TextStr};

/// Most dots of one film: 30 by 40 cm at 1200 to the inch is 268 million.
pub const MOST_DOTS: f64 = 3.0e8;

/// A picture of one bit a dot on a film.
pub struct Bits<'a> {
    pub plate: &'a Plate,
    /// Side of a square of the plate, mm.
    pub pixel: f64,
    pub tone: Tone,
    /// Where it stands on the sheet.
    pub at: Rect,
}

/// A film: what stands round the pictures, and the pictures.
pub struct Film<'a> {
    pub sheet: Sheet,
    pub bits: Vec<Bits<'a>>,
    /// Dots an inch.
    pub dpi: f64,
}

/// Films as pages of their own size, or in pieces on a paper that share a strip `overlap` mm wide.
///
/// # Errors
/// No film, a side too long, dots out of range or too many, too many pages.
pub fn pdf(films: &[Film], paper: Option<(Paper, f64)>) -> Result<Vec<u8>, Refused> {
    let Some(first) = films.first() else { return Err(Refused::Pages(0)) };
    for film in films {
        check(film)?;
    }
    let mut book = Book::new(&first.sheet);
    for film in films {
        let form = book.form(film);
        match paper {
            Some((paper, overlap)) => book.tiles(film, form, paper, overlap)?,
            None => book.page(form, (film.sheet.width, film.sheet.height), None),
        }
    }
    if book.pages.len() > MOST_PAGES {
        return Err(Refused::Pages(book.pages.len()));
    }
    Ok(book.finish())
}

fn check(film: &Film) -> Result<(), Refused> {
    crate::draw::refused::check(&film.sheet)?;
    side_check(&film.sheet, LONGEST_PAGE)?;
    if !(72.0..=2400.0).contains(&film.dpi) {
        return Err(Refused::Setting { what: "dots an inch", given: film.dpi, accepted: "72 to 2400" });
    }
    for bits in &film.bits {
        let across = |mm: f64| (mm / 25.4 * film.dpi).round();
        let (width, height) = (across(bits.at.width()), across(bits.at.height()));
        if !(width >= 1.0 && height >= 1.0) || width * height > MOST_DOTS {
            return Err(Refused::Pixels { width, height });
        }
    }
    Ok(())
}

/// Millimetres to points.
const POINTS: f64 = 72.0 / 25.4;

/// A document in the making.
struct Book {
    pdf: Pdf,
    next: i32,
    pages: Vec<Ref>,
    tree: Ref,
}

impl Book {
    fn new(first: &Sheet) -> Book {
        let mut book = Book { pdf: Pdf::new(), next: 0, pages: Vec::new(), tree: Ref::new(1) };
        let (catalog, info) = (book.id(), book.id());
        book.tree = book.id();
        let tree = book.tree;
        book.pdf.catalog(catalog).pages(tree);
        let mut about = book.pdf.document_info(info);
        about.title(TextStr(&first.title)).creator(TextStr("Clothwright"));
        about.finish();
        book
    }

    fn id(&mut self) -> Ref {
        self.next += 1;
        Ref::new(self.next)
    }

    /// A film as a form in points, its foot at the origin, that any page may show.
    fn form(&mut self, film: &Film) -> Ref {
        let images: Vec<Ref> = film.bits.iter().map(|bits| self.image(bits, film.dpi)).collect();
        let mut content = Content::new();
        black::draw(&mut content, &film.sheet);
        let high = film.sheet.height;
        for (at, bits) in film.bits.iter().enumerate() {
            let r = bits.at;
            let matrix = [r.width(), 0.0, 0.0, r.height(), r.x0, high - r.y1].map(|v| (v * POINTS) as f32);
            let name = format!("B{at}");
            content.save_state();
            content.set_fill_gray(0.0).transform(matrix).x_object(Name(name.as_bytes()));
            content.restore_state();
        }
        let id = self.id();
        let stream = content.finish();
        let mut form = self.pdf.form_xobject(id, &stream);
        form.bbox(pdf_writer::Rect::new(0.0, 0.0, (film.sheet.width * POINTS) as f32, (high * POINTS) as f32));
        let mut resources = form.resources();
        let mut objects = resources.x_objects();
        for (at, image) in images.iter().enumerate() {
            objects.pair(Name(format!("B{at}").as_bytes()), *image);
        }
        objects.finish();
        resources.finish();
        form.finish();
        id
    }

    /// A picture of one bit a dot: a mask through which black is poured.
    fn image(&mut self, bits: &Bits, dpi: f64) -> Ref {
        let dot = 25.4 / dpi;
        // the picture's side on the film, in whole dots, is the plate's side in dots
        let raster = Raster::new(bits.plate, bits.pixel, dot, bits.tone);
        let mut rows = vec![0u8; raster.row_bytes() * raster.height];
        raster.rows(0, &mut rows);
        let upward = bits.tone == Tone::Solid;
        let packed = pack::pack(&rows, raster.row_bytes(), upward);
        drop(rows);
        let id = self.id();
        let mut image = self.pdf.image_xobject(id, &packed);
        image.filter(Filter::FlateDecode);
        if upward {
            let mut how = image.decode_parms();
            how.predictor(pdf_writer::types::Predictor::PngUp)
                .colors(1)
                .bits_per_component(1)
                .columns(raster.width as i32);
            how.finish();
        }
        image.width(raster.width as i32).height(raster.height as i32);
        image.image_mask(true).bits_per_component(1).decode([1.0, 0.0]);
        image.finish();
        id
    }

    /// A page that shows a form; `window` in mm of the film, from its top left, where only a part is shown, and the page's own marks.
    fn page(&mut self, form: Ref, size: (f64, f64), window: Option<(Rect, f64, &Sheet)>) {
        let (page, stream) = (self.id(), self.id());
        let mut content = Content::new();
        match window {
            None => {
                content.x_object(Name(b"F"));
            }
            Some((part, film_height, marks)) => {
                let (left, foot) = ((size.0 - part.width()) / 2.0, (size.1 - part.height()) / 2.0);
                content.save_state();
                let edge = [left, foot, part.width(), part.height()].map(|v| (v * POINTS) as f32);
                content.rect(edge[0], edge[1], edge[2], edge[3]).clip_nonzero().end_path();
                let shift = [left - part.x0, foot - (film_height - part.y1)].map(|v| (v * POINTS) as f32);
                content.transform([1.0, 0.0, 0.0, 1.0, shift[0], shift[1]]).x_object(Name(b"F"));
                content.restore_state();
                black::draw(&mut content, marks);
            }
        }
        self.pdf.stream(stream, &content.finish());
        let mut made = self.pdf.page(page);
        made.media_box(pdf_writer::Rect::new(0.0, 0.0, (size.0 * POINTS) as f32, (size.1 * POINTS) as f32));
        made.parent(self.tree).contents(stream);
        made.resources().x_objects().pair(Name(b"F"), form);
        made.finish();
        self.pages.push(page);
    }

    /// The film in pieces, row by row, each with a number and marks that meet those of its neighbours.
    fn tiles(&mut self, film: &Film, form: Ref, paper: Paper, overlap: f64) -> Result<(), Refused> {
        let size = paper.size();
        let (width, height) = (film.sheet.width, film.sheet.height);
        if width <= size.0 && height <= size.1 {
            self.page(form, (width, height), None);
            return Ok(());
        }
        let tiling = Tiling::new(&film.sheet, paper, overlap)?;
        for row in 0..tiling.rows {
            for column in 0..tiling.columns {
                let part = tiling.window(row, column);
                let marks = marks(film, tiling.page(), part, &Tiling::name(row, column), overlap);
                self.page(form, tiling.page(), Some((part, height, &marks)));
            }
        }
        Ok(())
    }

    fn finish(mut self) -> Vec<u8> {
        let number = self.pages.len() as i32;
        self.pdf.pages(self.tree).kids(self.pages.iter().copied()).count(number);
        self.pdf.finish()
    }
}

/// What stands on a piece beside the film: its name, and lines where the next piece begins.
fn marks(film: &Film, size: (f64, f64), part: Rect, name: &str, overlap: f64) -> Sheet {
    let mut sheet = Sheet::new("piece", "A piece of a film", "", size.0, size.1);
    let (left, top) = ((size.0 - part.width()) / 2.0, (size.1 - part.height()) / 2.0);
    let words = format!("{} · piece {name} · lay the next piece on the lines, {overlap:.0} mm over", film.sheet.title);
    sheet.words(Type::Small, Anchor::Start, (left + overlap + 2.0, top - 3.0), words);
    if part.x0 > 0.0 {
        sheet.line(Line::Detail, (left + overlap, 1.0), (left + overlap, top - 1.0));
        sheet.line(Line::Detail, (left + overlap, top + part.height() + 1.0), (left + overlap, size.1 - 1.0));
    }
    if part.y0 > 0.0 {
        sheet.line(Line::Detail, (1.0, top + overlap), (left - 1.0, top + overlap));
        sheet.line(Line::Detail, (left + part.width() + 1.0, top + overlap), (size.0 - 1.0, top + overlap));
    }
    sheet
}
