//! Pages that fill from top to bottom. Places and sizes are points, places downwards from the upper edge.

use super::{
    tags::{Kind, Node, Tags},
    text::{Line, SMALL, Style, wrap},
};

/// A4, ISO 216: 210 mm by 297 mm.
pub(super) const PAGE: (f32, f32) = (595.28, 841.89);
/// Left edge of what is written.
pub(super) const LEFT: f32 = 54.0;
/// Width of what is written.
pub(super) const WIDTH: f32 = PAGE.0 - 2.0 * LEFT;
pub(super) const TOP: f32 = 50.0;
const BOTTOM: f32 = PAGE.1 - 58.0;
const FOOT: f32 = PAGE.1 - 34.0;

/// What stands on a page.
#[derive(Default)]
pub(in crate::page) struct Page {
    pub(in crate::page) lines: Vec<Placed>,
    pub(in crate::page) strokes: Vec<Stroke>,
}

/// A line of text where it stands.
pub(in crate::page) struct Placed {
    pub(in crate::page) line: Line,
    /// Left edge and baseline.
    pub(in crate::page) at: (f32, f32),
    /// What it belongs to; none for what is on every page.
    pub(super) node: Option<Node>,
}

/// What is drawn.
pub(in crate::page) enum Stroke {
    /// A line across from a place; its gray from 0, black, to 1.
    Rule {
        at: (f32, f32),
        width: f32,
        gray: f32,
    },
    /// An empty frame: its place and size.
    Frame { at: (f32, f32), size: (f32, f32) },
    /// A black bar: its place and size.
    Bar { at: (f32, f32), size: (f32, f32) },
}

/// Writes on the last page and begins another when it is full.
pub(super) struct Pen {
    full: Vec<Page>,
    page: Page,
    /// Upper edge of what comes next.
    y: f32,
    pub(super) tags: Tags,
}

impl Pen {
    pub(super) fn new() -> Self {
        Self {
            full: Vec::new(),
            page: Page::default(),
            y: TOP,
            tags: Tags::default(),
        }
    }

    /// Goes down without writing.
    pub(super) fn skip(&mut self, height: f32) {
        self.y += height;
    }

    /// True when this much is left on the page, or more is requested than any page has.
    pub(super) fn fits(&self, height: f32) -> bool {
        self.y + height <= BOTTOM || (height > BOTTOM - TOP && self.y < BOTTOM - 60.0)
    }

    /// Begins another page when so much is not left on this one.
    pub(super) fn keep(&mut self, height: f32) {
        if !self.fits(height) {
            self.turn();
        }
    }

    /// Begins another page.
    pub(super) fn turn(&mut self) {
        self.full.push(std::mem::take(&mut self.page));
        self.y = TOP;
    }

    /// Writes a line at `x` without going down.
    pub(super) fn write(&mut self, line: Line, x: f32, node: Node) {
        // The capital letters are 0.72 of the size; with this they stand in the middle of the line.
        let baseline = self.y + line.style.leading() / 2.0 + line.style.size * 0.34;
        self.page.lines.push(Placed {
            line,
            at: (x, baseline),
            node: Some(node),
        });
    }

    /// A text over the whole width from `x`, on as many pages as it needs.
    pub(super) fn text(&mut self, text: &str, style: Style, kind: Kind) {
        let node = self.tags.add(kind);
        self.lines(text, style, LEFT, node);
    }

    /// The same from `x`, for what is there already.
    pub(super) fn lines(&mut self, text: &str, style: Style, x: f32, node: Node) {
        for line in wrap(text, style, LEFT + WIDTH - x) {
            self.keep(style.leading());
            self.write(line, x, node);
            self.skip(style.leading());
        }
    }

    /// A line across at the upper edge; `gray` from 0, black, to 1.
    pub(super) fn rule(&mut self, x: f32, width: f32, gray: f32) {
        let at = (x, self.y);
        self.page.strokes.push(Stroke::Rule { at, width, gray });
    }

    /// A frame that hangs from the upper edge.
    pub(super) fn frame(&mut self, height: f32) {
        self.page.strokes.push(Stroke::Frame {
            at: (LEFT, self.y),
            size: (WIDTH, height),
        });
    }

    /// A black bar `below` the upper edge.
    pub(super) fn bar(&mut self, x: f32, below: f32, width: f32, height: f32) {
        self.page.strokes.push(Stroke::Bar {
            at: (x, self.y + below),
            size: (width, height),
        });
    }

    /// The pages, each with the title and its number at its foot, and what their lines belong to.
    pub(super) fn finish(mut self, title: &str, numbered: &str) -> (Vec<Page>, Tags) {
        self.turn();
        let count = self.full.len().to_string();
        for (place, page) in self.full.iter_mut().enumerate() {
            let number = place.saturating_add(1).to_string();
            let number = numbered
                .replace("{page}", &number)
                .replace("{pages}", &count);
            for line in wrap(&number, SMALL, WIDTH).into_iter().take(1) {
                let at = (LEFT + WIDTH - line.width(), FOOT);
                page.lines.push(Placed {
                    line,
                    at,
                    node: None,
                });
            }
            for line in wrap(title, SMALL, WIDTH / 2.0).into_iter().take(1) {
                let at = (LEFT, FOOT);
                page.lines.push(Placed {
                    line,
                    at,
                    node: None,
                });
            }
        }
        (self.full, self.tags)
    }
}
