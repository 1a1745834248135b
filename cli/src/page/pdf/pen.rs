//! Pages that fill from top to bottom. Places and sizes are points.

use super::{
    beyond::FIRST,
    letters::{BEYOND, Code},
    text::{Line, SMALL, Style, wrap},
};
use pdf_writer::{Content, Str};

/// A4, ISO 216: 210 mm by 297 mm.
pub(super) const PAGE: (f32, f32) = (595.28, 841.89);
/// Left edge of what is written.
pub(super) const LEFT: f32 = 54.0;
/// Width of what is written.
pub(super) const WIDTH: f32 = PAGE.0 - 2.0 * LEFT;
const TOP: f32 = PAGE.1 - 50.0;
const BOTTOM: f32 = 58.0;
const FOOT: f32 = 34.0;

/// Writes on the last page and begins another when it is full.
pub(super) struct Pen {
    full: Vec<Content>,
    page: Content,
    /// Upper edge of what comes next.
    y: f32,
}

impl Pen {
    pub(super) fn new() -> Self {
        Self {
            full: Vec::new(),
            page: Content::new(),
            y: TOP,
        }
    }

    /// Goes down without writing.
    pub(super) fn skip(&mut self, height: f32) {
        self.y -= height;
    }

    /// True when this much is left on the page, or more is requested than any page has.
    pub(super) fn fits(&self, height: f32) -> bool {
        self.y - height >= BOTTOM || (height > TOP - BOTTOM && self.y > BOTTOM + 60.0)
    }

    /// Begins another page when so much is not left on this one.
    pub(super) fn keep(&mut self, height: f32) {
        if !self.fits(height) {
            self.turn();
        }
    }

    /// Begins another page.
    pub(super) fn turn(&mut self) {
        self.full
            .push(std::mem::replace(&mut self.page, Content::new()));
        self.y = TOP;
    }

    /// Writes a line at `x` without going down.
    pub(super) fn write(&mut self, line: &Line, x: f32) {
        // The capital letters of Helvetica are 0.718 of its size; with this they stand in the middle of the line.
        let baseline = self.y - line.style.leading() / 2.0 - line.style.size * 0.34;
        show(&mut self.page, line, x, baseline);
    }

    /// A text over the whole width from `x`, on as many pages as it needs.
    pub(super) fn text(&mut self, text: &str, style: Style, x: f32) {
        for line in wrap(text, style, LEFT + WIDTH - x) {
            self.keep(style.leading());
            self.write(&line, x);
            self.skip(style.leading());
        }
    }

    /// A line across at the upper edge; `gray` from 0, black, to 1.
    pub(super) fn rule(&mut self, x: f32, width: f32, gray: f32) {
        self.page.set_stroke_gray(gray).set_line_width(0.6);
        self.page
            .move_to(x, self.y)
            .line_to(x + width, self.y)
            .stroke();
    }

    /// A frame that hangs from the upper edge.
    pub(super) fn frame(&mut self, height: f32) {
        self.page.set_stroke_gray(0.0).set_line_width(1.2);
        self.page
            .rect(LEFT, self.y - height, WIDTH, height)
            .stroke();
    }

    /// A black bar `below` the upper edge.
    pub(super) fn bar(&mut self, x: f32, below: f32, width: f32, height: f32) {
        self.page
            .rect(x, self.y - below - height, width, height)
            .fill_nonzero();
    }

    /// The pages, each with the title and its number at its foot.
    pub(super) fn finish(mut self, title: &str) -> Vec<Content> {
        self.turn();
        let count = self.full.len();
        for (place, page) in self.full.iter_mut().enumerate() {
            let number = format!("page {} of {count}", place.saturating_add(1));
            for number in wrap(&number, SMALL, WIDTH) {
                show(page, &number, LEFT + WIDTH - number.width(), FOOT);
            }
            for title in wrap(title, SMALL, WIDTH).iter().take(1) {
                show(page, title, LEFT, FOOT);
            }
        }
        self.full
    }
}

fn show(page: &mut Content, line: &Line, x: f32, baseline: f32) {
    if line.text.is_empty() {
        return;
    }
    page.begin_text();
    // A run of letters of one encoding after the other; each goes on where the one before ended.
    for (place, run) in line
        .text
        .chunk_by(|one, next| (*one < BEYOND) == (*next < BEYOND))
        .enumerate()
    {
        let is_beyond = run.first().is_some_and(|code| *code >= BEYOND);
        let font = if is_beyond {
            line.style.font_beyond()
        } else {
            line.style.font()
        };
        page.set_font(font, line.style.size);
        if place == 0 {
            page.next_line(x, baseline);
        }
        page.show(Str(&run.iter().copied().map(byte).collect::<Vec<u8>>()));
    }
    page.end_text();
}

/// A code in its own encoding.
fn byte(code: Code) -> u8 {
    let code = match code.checked_sub(BEYOND) {
        Some(place) => place.saturating_add(Code::from(FIRST)),
        None => code,
    };
    u8::try_from(code).expect("either encoding has 256 codes at most")
}
