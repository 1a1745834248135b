//! What stands on a sheet, whatever draws it.

use super::{PageError, customer, logo::Picture, words, words::Wording};
use ellwand_contract::{logos::Logo, quotations::CustomerSheet, words::Label};

/// A sheet from top to bottom.
#[derive(Default)]
pub struct Document {
    /// Its language, as in `en`.
    pub(super) language: String,
    /// How a page is numbered: `page {page} of {pages}`.
    pub(super) numbered: String,
    /// The workshop's logo.
    pub(super) logo: Option<Picture>,
    /// Who it is from: a name, then lines of an address; empty where the workshop has given none.
    pub(super) sender: Vec<String>,
    /// Its name: `Quotation Q3, version 2`.
    pub(super) title: String,
    /// What must be seen before anything else: the sheet is not for the customer, the quotation is not open.
    pub(super) marks: Vec<String>,
    /// For whom, what, when: names and values.
    pub(super) facts: Vec<(String, String)>,
    /// The rest.
    pub(super) blocks: Vec<Block>,
}

/// A part of a sheet.
pub(super) enum Block {
    /// A line over what follows.
    Heading(String),
    /// Running text; its line breaks are kept.
    Text(String),
    /// Lines with a bullet.
    List(Vec<String>),
    /// Rows and columns.
    Table(Table),
    /// Parts of a sum, one bar beside each.
    Bars(Vec<Bar>),
    /// Lines to write on, with what belongs on each.
    Signed(Vec<String>),
}

/// Rows under headings. The first column is as wide as the others leave it.
pub(super) struct Table {
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<Row>,
}

/// A column of a table.
pub(super) struct Column {
    pub(super) name: String,
    /// True for figures, which end at the same edge.
    pub(super) is_right: bool,
}

/// A row of a table.
pub(super) enum Row {
    /// A name over the rows that follow.
    Group(String),
    /// One cell for each column.
    Cells(Vec<Cell>),
    /// One cell for each column, under a line and in bold: a total.
    Total(Vec<Cell>),
}

/// A cell of a table.
pub(super) struct Cell {
    pub(super) text: String,
    /// Smaller, under the text.
    pub(super) note: Option<String>,
}

/// A part of a sum. Bars begin where the one above ends; the positive parts together are as wide as the picture.
pub(super) struct Bar {
    pub(super) name: String,
    pub(super) amount: String,
    /// Of the sum: `35.2 %`.
    pub(super) share: String,
    /// Beginning and width in thousandths of the picture; for a part that is not above zero the text instead.
    pub(super) drawn: Result<(u16, u16), &'static str>,
}

impl Document {
    /// The same with a logo at its head.
    ///
    /// # Errors
    /// [`PageError::Drawn`] for a picture that cannot be read.
    pub fn with_logo(mut self, logo: &Logo) -> Result<Self, PageError> {
        self.logo = Some(Picture::from_logo(logo)?);
        Ok(self)
    }

    /// A sheet in the words and under the head of one that the customer has.
    pub(super) fn headed_as(sheet: &CustomerSheet) -> Self {
        let words = Wording::of_sheet(sheet);
        let sender = sheet.sender.as_ref();
        Self {
            language: words.word(Label::Language).to_owned(),
            numbered: words::clean(words.word(Label::Page)),
            sender: sender.map_or_else(Vec::new, |sender| customer::sender(sender, words)),
            ..Self::default()
        }
    }

    /// All that is written on it, in lines.
    pub(super) fn text(&self) -> String {
        let mut all: Vec<&str> = self
            .sender
            .iter()
            .chain(&self.marks)
            .map(String::as_str)
            .collect();
        all.push(&self.title);
        all.extend(
            self.facts
                .iter()
                .flat_map(|(name, value)| [name.as_str(), value]),
        );
        for block in &self.blocks {
            match block {
                Block::Heading(text) | Block::Text(text) => all.push(text),
                Block::List(texts) | Block::Signed(texts) => {
                    all.extend(texts.iter().map(String::as_str))
                }
                Block::Bars(bars) => {
                    all.extend(
                        bars.iter()
                            .flat_map(|bar| [&bar.name, &bar.amount, &bar.share])
                            .map(String::as_str),
                    );
                }
                Block::Table(table) => {
                    all.extend(table.columns.iter().map(|column| column.name.as_str()));
                    for row in &table.rows {
                        let cells = match row {
                            Row::Group(name) => {
                                all.push(name);
                                continue;
                            }
                            Row::Cells(cells) | Row::Total(cells) => cells,
                        };
                        all.extend(cells.iter().map(|cell| cell.text.as_str()));
                        all.extend(cells.iter().filter_map(|cell| cell.note.as_deref()));
                    }
                }
            }
        }
        all.join("\n")
    }
}

impl Cell {
    /// A text alone.
    pub(super) fn new(text: impl AsRef<str>) -> Self {
        Self {
            text: words::clean(text.as_ref()),
            note: None,
        }
    }

    /// A text with a smaller one under it.
    pub(super) fn noted(text: impl AsRef<str>, note: impl AsRef<str>) -> Self {
        let note = words::clean(note.as_ref());
        Self {
            note: Some(note).filter(|note| !note.is_empty()),
            ..Self::new(text)
        }
    }
}

/// A column of words.
pub(super) fn left(name: impl AsRef<str>) -> Column {
    Column {
        name: words::clean(name.as_ref()),
        is_right: false,
    }
}

/// A column of figures.
pub(super) fn right(name: impl AsRef<str>) -> Column {
    Column {
        name: words::clean(name.as_ref()),
        is_right: true,
    }
}

impl Block {
    /// A line over what follows.
    pub(super) fn heading(text: impl AsRef<str>) -> Self {
        Self::Heading(words::clean(text.as_ref()))
    }

    /// Running text.
    pub(super) fn text(text: impl AsRef<str>) -> Self {
        Self::Text(words::clean(text.as_ref()))
    }

    /// Lines with a bullet.
    pub(super) fn list<'t>(texts: impl IntoIterator<Item = &'t String>) -> Self {
        Self::List(texts.into_iter().map(|text| words::clean(text)).collect())
    }
}
