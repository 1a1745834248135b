//! A sheet as a PDF file, drawn with fonts that every reader has: no browser, no font file.

mod beyond;
mod grid;
mod letters;
mod pen;
mod text;
mod widths;

use super::{
    PageError,
    document::{Block, Document},
    sheet,
};
use ellwand_contract::quotations::Quotation;
use pdf_writer::{Content, Name, Pdf, Rect, Ref, TextStr};
use pen::{LEFT, PAGE, Pen, WIDTH};
use text::{HEADING, SMALL, STRONG, Style, TEXT, TITLE, wrap};

/// A quotation as a PDF file on A4: the customer's sheet, or the workshop's when `inside`.
///
/// Text may be selected and searched. It is in Helvetica, with the letters of Western, Central and Eastern Europe; another
/// letter is shown as a fitting plain one (`ħ` as `h`), else as `?`: see [`lost`]. The same quotation gives the same bytes.
///
/// # Errors
/// [`PageError::Hidden`] when the workshop's sheet is requested and `quotation` has none.
pub fn pdf(quotation: &Quotation, inside: bool) -> Result<Vec<u8>, PageError> {
    let document = sheet(quotation, inside)?;
    Ok(file(&document.title, drawn(&document)))
}

/// Letters of the sheet that the PDF can only show as `?`, each once.
pub fn lost(quotation: &Quotation, inside: bool) -> Result<Vec<char>, PageError> {
    Ok(letters::lost(&sheet(quotation, inside)?.text()))
}

fn drawn(document: &Document) -> Vec<Content> {
    let mut pen = Pen::new();
    sender(&mut pen, &document.sender);
    pen.text(&document.title, TITLE, LEFT);
    for mark in &document.marks {
        pen.skip(6.0);
        framed(&mut pen, mark);
    }
    pen.skip(8.0);
    facts(&mut pen, &document.facts);
    for block in &document.blocks {
        match block {
            Block::Heading(text) => {
                pen.skip(12.0);
                pen.keep(5.0 * HEADING.leading());
                pen.text(text, HEADING, LEFT);
            }
            Block::Text(text) => {
                pen.skip(3.0);
                pen.text(text, TEXT, LEFT);
            }
            Block::List(texts) => texts.iter().for_each(|text| item(&mut pen, text)),
            Block::Table(table) => grid::table(&mut pen, table),
            Block::Bars(bars) => grid::bars(&mut pen, bars),
            Block::Signed(lines) => signed(&mut pen, lines),
        }
    }
    pen.finish(&document.title)
}

/// Who the sheet is from, over a line across.
fn sender(pen: &mut Pen, lines: &[String]) {
    let Some((first, rest)) = lines.split_first() else {
        return;
    };
    pen.text(first, HEADING, LEFT);
    for line in rest {
        pen.text(line, TEXT, LEFT);
    }
    pen.skip(5.0);
    pen.rule(LEFT, WIDTH, 0.75);
    pen.skip(14.0);
}

fn framed(pen: &mut Pen, text: &str) {
    const PAD: f32 = 5.0;
    let lines = wrap(text, STRONG, WIDTH - 2.0 * PAD);
    let height: f32 = lines.iter().map(|line| line.style.leading()).sum::<f32>() + 2.0 * PAD;
    pen.keep(height);
    pen.frame(height);
    pen.skip(PAD);
    for line in &lines {
        pen.write(line, LEFT + PAD);
        pen.skip(line.style.leading());
    }
    pen.skip(PAD);
}

/// Lines to write on, side by side, with their names under them.
fn signed(pen: &mut Pen, lines: &[String]) {
    const GAP: f32 = 24.0;
    const ROOM: f32 = 44.0;
    pen.keep(ROOM + 2.0 * SMALL.leading());
    pen.skip(ROOM);
    let width = (WIDTH + GAP) / lines.len().max(1) as f32 - GAP;
    for (place, line) in lines.iter().enumerate() {
        let x = LEFT + place as f32 * (width + GAP);
        pen.rule(x, width, 0.0);
        for line in wrap(line, SMALL, width).iter().take(1) {
            pen.write(line, x);
        }
    }
    pen.skip(SMALL.leading());
}

fn facts(pen: &mut Pen, facts: &[(&'static str, String)]) {
    for (name, value) in facts {
        pen.keep(TEXT.leading());
        labelled(pen, name, STRONG, value, 80.0);
    }
}

fn item(pen: &mut Pen, text: &str) {
    pen.keep(TEXT.leading());
    labelled(pen, "•", TEXT, text, 10.0);
}

/// A text with a label to its left, on the same page as its first line.
fn labelled(pen: &mut Pen, label: &str, style: Style, text: &str, indent: f32) {
    for line in &wrap(label, style, WIDTH) {
        pen.write(line, LEFT);
    }
    pen.text(text, TEXT, LEFT + indent);
}

/// The file around the pages. It holds a title and a language, and nothing about who made it or when.
fn file(title: &str, pages: Vec<Content>) -> Vec<u8> {
    let mut next = 0_i32;
    let mut id = || {
        next = next.saturating_add(1);
        Ref::new(next)
    };
    let [
        catalog,
        tree,
        info,
        regular,
        bold,
        regular_beyond,
        bold_beyond,
    ] = std::array::from_fn(|_| id());
    let pages: Vec<_> = pages
        .into_iter()
        .map(|content| (id(), id(), content))
        .collect();
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr("en"));
    root.viewer_preferences().display_doc_title(true);
    drop(root);
    pdf.document_info(info).title(TextStr(title));
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    pdf.pages(tree)
        .kids(pages.iter().map(|(page, ..)| *page))
        .count(count);
    for (font, name) in [
        (regular, Name(b"Helvetica")),
        (bold, Name(b"Helvetica-Bold")),
    ] {
        pdf.type1_font(font)
            .base_font(name)
            .encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    // The same fonts, with the names of the letters that WinAnsi has not.
    for (font, name) in [
        (regular_beyond, Name(b"Helvetica")),
        (bold_beyond, Name(b"Helvetica-Bold")),
    ] {
        let mut font = pdf.type1_font(font);
        font.base_font(name);
        let names = beyond::LETTERS
            .iter()
            .map(|beyond| Name(beyond.name.as_bytes()));
        font.encoding_custom()
            .differences()
            .consecutive(beyond::FIRST, names);
    }
    for (id, stream, content) in pages {
        let mut page = pdf.page(id);
        page.media_box(Rect::new(0.0, 0.0, PAGE.0, PAGE.1))
            .parent(tree)
            .contents(stream);
        let mut resources = page.resources();
        let mut fonts = resources.fonts();
        fonts.pair(TEXT.font(), regular).pair(STRONG.font(), bold);
        fonts
            .pair(TEXT.font_beyond(), regular_beyond)
            .pair(STRONG.font_beyond(), bold_beyond);
        drop(fonts);
        drop(resources);
        drop(page);
        pdf.stream(stream, &content.finish());
    }
    pdf.finish()
}

/// Width of a run of text in points, and its letters, for whoever reads a file back: the bytes of a font by its name.
#[cfg(test)]
pub(super) fn read_back(font: &str, size: f32, bytes: &[u8]) -> (f32, String) {
    let is_beyond = font.ends_with('X');
    let codes: Vec<letters::Code> = bytes
        .iter()
        .map(|byte| match is_beyond {
            true => letters::BEYOND + u16::from(byte - beyond::FIRST),
            false => u16::from(*byte),
        })
        .collect();
    let letter = |byte: &u8| match is_beyond {
        true => beyond::LETTERS[usize::from(byte - beyond::FIRST)].letter,
        // WinAnsi as far as the samples need it: Latin-1.
        false => char::from(*byte),
    };
    let width = Style {
        is_bold: font.starts_with("/B"),
        size,
    }
    .width(&codes);
    (width, bytes.iter().map(letter).collect())
}
