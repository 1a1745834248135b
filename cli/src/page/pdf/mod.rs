//! A sheet as a PDF file, with the letters that it shows and with tags for reading it aloud: no browser, no font of the machine.

mod fonts;
mod grid;
mod pen;
mod tags;
mod text;

use super::{
    PageError,
    document::{Block, Document},
};
use fonts::Face;
use krilla::{
    SerializeSettings,
    color::luma,
    geom::{PathBuilder, Point, Rect},
    metadata::Metadata,
    num::NormalizedF32,
    page::PageSettings,
    paint::{Fill, Stroke as Line},
    surface::Surface,
    tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag},
    text::KrillaGlyph,
};
use pen::{LEFT, PAGE, Pen, Placed, Stroke, TOP, WIDTH};
use tags::{Kind, Node, Tags};
use text::{HEADING, SMALL, STRONG, Style, TEXT, TITLE, wrap};

pub(super) use pen::Page;
#[cfg(test)]
pub(super) use pen::Stroke as Drawn;

impl Document {
    /// The sheet as a PDF file on A4.
    ///
    /// Text may be selected, searched and read aloud. Its letters are of a font within the file; one that the font has not is
    /// an empty frame: see [`Self::lost`]. The same sheet gives the same bytes.
    ///
    /// # Errors
    /// [`PageError::Drawn`], a fault of the program.
    pub fn pdf(&self) -> Result<Vec<u8>, PageError> {
        let (pages, tags) = drawn(self);
        file(self, &pages, &tags)
    }

    /// Letters of the sheet that the PDF shows as empty frames, each once.
    #[must_use]
    pub fn lost(&self) -> Vec<char> {
        let face = Face::regular_or_bold(false);
        let mut lost = Vec::new();
        for letter in self.text().chars() {
            if letter != '\n' && !face.has(letter) && !lost.contains(&letter) {
                lost.push(letter);
            }
        }
        lost
    }
}

/// The pages as they are filled.
pub(super) fn drawn(document: &Document) -> (Vec<Page>, Tags) {
    let mut pen = Pen::new();
    if let Some(logo) = &document.logo {
        // Drawn at the upper edge of the first page.
        pen.skip(logo.size.1 + 8.0);
    }
    sender(&mut pen, &document.sender);
    pen.text(&document.title, TITLE, Kind::Title);
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
                pen.text(text, HEADING, Kind::Heading);
            }
            Block::Text(text) => {
                pen.skip(3.0);
                pen.text(text, TEXT, Kind::Text);
            }
            Block::List(texts) => {
                pen.tags.open(Kind::List);
                texts.iter().for_each(|text| item(&mut pen, text));
                pen.tags.close();
            }
            Block::Table(table) => grid::table(&mut pen, table),
            Block::Bars(bars) => grid::bars(&mut pen, bars),
            Block::Signed(lines) => signed(&mut pen, lines),
        }
    }
    pen.finish(&document.title, &document.numbered)
}

/// Who the sheet is from, over a line across.
fn sender(pen: &mut Pen, lines: &[String]) {
    let Some((first, rest)) = lines.split_first() else {
        return;
    };
    pen.text(first, HEADING, Kind::Text);
    for line in rest {
        pen.text(line, TEXT, Kind::Text);
    }
    pen.skip(5.0);
    pen.rule(LEFT, WIDTH, 0.75);
    pen.skip(14.0);
}

fn framed(pen: &mut Pen, text: &str) {
    const PAD: f32 = 5.0;
    let node = pen.tags.add(Kind::Text);
    let lines = wrap(text, STRONG, WIDTH - 2.0 * PAD);
    let height: f32 = lines.iter().map(|line| line.style.leading()).sum::<f32>() + 2.0 * PAD;
    pen.keep(height);
    pen.frame(height);
    pen.skip(PAD);
    for line in lines {
        let leading = line.style.leading();
        pen.write(line, LEFT + PAD, node);
        pen.skip(leading);
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
        let node = pen.tags.add(Kind::Text);
        for line in wrap(line, SMALL, width).into_iter().take(1) {
            pen.write(line, x, node);
        }
    }
    pen.skip(SMALL.leading());
}

fn facts(pen: &mut Pen, facts: &[(String, String)]) {
    let names = facts.iter().map(|(name, _)| STRONG.width(name));
    let indent = names.fold(64.0, f32::max).min(WIDTH / 3.0) + 16.0;
    for (name, value) in facts {
        labelled(pen, (name, STRONG), value, (Kind::Text, indent));
    }
}

fn item(pen: &mut Pen, text: &str) {
    labelled(pen, ("•", TEXT), text, (Kind::Item, 10.0));
}

/// A text with a label to its left, on the same page as its first line.
fn labelled(pen: &mut Pen, (label, style): (&str, Style), text: &str, (kind, indent): (Kind, f32)) {
    pen.keep(TEXT.leading());
    let node = pen.tags.add(kind);
    for line in wrap(label, style, indent).into_iter().take(1) {
        pen.write(line, LEFT, node);
    }
    pen.lines(text, TEXT, LEFT + indent, node);
}

/// The file around the pages. It holds a title and a language, and nothing about who made it or when.
fn file(document: &Document, pages: &[Page], tags: &Tags) -> Result<Vec<u8>, PageError> {
    let settings = SerializeSettings {
        xmp_metadata: false,
        ..SerializeSettings::default()
    };
    let mut file = krilla::Document::new_with(settings);
    file.set_metadata(
        Metadata::new()
            .title(document.title.clone())
            .language(document.language.clone()),
    );
    let size = PageSettings::from_wh(PAGE.0, PAGE.1).ok_or(PageError::Drawn)?;
    let mut shown = Vec::new();
    for (place, page) in pages.iter().enumerate() {
        let mut sheet = file.start_page_with(size.clone());
        let mut surface = sheet.surface();
        let layout = Artifact::with_kind(ArtifactType::Layout);
        surface.start_tagged(ContentTag::Artifact(layout));
        page.strokes
            .iter()
            .for_each(|stroke| draw(&mut surface, stroke));
        if let Some(logo) = document.logo.as_ref().filter(|_| place == 0) {
            logo.draw(&mut surface, (LEFT, TOP));
        }
        surface.end_tagged();
        for placed in &page.lines {
            shown.extend(write(&mut surface, placed));
        }
        surface.finish();
        sheet.finish();
    }
    file.set_tag_tree(tags.tree(shown));
    file.finish().map_err(|_| PageError::Drawn)
}

fn draw(surface: &mut Surface<'_>, stroke: &Stroke) {
    let mut path = PathBuilder::new();
    let of = |(x, y): (f32, f32), (width, height): (f32, f32)| Rect::from_xywh(x, y, width, height);
    match *stroke {
        Stroke::Rule {
            at: (x, y), width, ..
        } => {
            path.move_to(x, y);
            path.line_to(x + width, y);
        }
        Stroke::Frame { at, size } | Stroke::Bar { at, size } => {
            of(at, size)
                .into_iter()
                .for_each(|rect| path.push_rect(rect));
        }
    }
    let Some(path) = path.finish() else { return };
    let line = |width, gray: f32| Line {
        // Between 0 and 1, so within a byte.
        paint: luma::Color::new((gray * 255.0) as u8).into(),
        width,
        ..Line::default()
    };
    let fill = Fill {
        paint: luma::Color::black().into(),
        opacity: NormalizedF32::ONE,
        ..Fill::default()
    };
    let (line, fill) = match stroke {
        Stroke::Rule { gray, .. } => (Some(line(0.6, *gray)), None),
        Stroke::Frame { .. } => (Some(line(1.2, 0.0)), None),
        Stroke::Bar { .. } => (None, Some(fill)),
    };
    surface.set_stroke(line);
    surface.set_fill(fill);
    surface.draw_path(&path);
    surface.set_stroke(None);
    surface.set_fill(None);
}

/// Writes a line; what it belongs to, where that is not on every page.
fn write(surface: &mut Surface<'_>, placed: &Placed) -> Option<(Node, Identifier)> {
    let Placed { line, at, node } = placed;
    if line.text.is_empty() {
        return None;
    }
    let foot = Artifact::with_kind(ArtifactType::PaginationOther);
    let identifier = surface.start_tagged(match node {
        Some(_) => ContentTag::Span(SpanTag::empty()),
        None => ContentTag::Artifact(foot),
    });
    let face = line.style.face();
    let glyphs = line.text.char_indices().map(|(from, letter)| {
        let (id, width) = face.glyph(letter);
        let range = from..from.saturating_add(letter.len_utf8());
        KrillaGlyph::new(id, width, 0.0, 0.0, 0.0, range, None)
    });
    let glyphs: Vec<KrillaGlyph> = glyphs.collect();
    let (start, font) = (Point::from_xy(at.0, at.1), face.font.clone());
    surface.draw_glyphs(start, &glyphs, font, &line.text, line.style.size, false);
    surface.end_tagged();
    node.map(|node| (node, identifier))
}
