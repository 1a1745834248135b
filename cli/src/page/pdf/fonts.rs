//! Liberation Sans, which a file takes the letters from that it shows. Its licence stands beside it, in `cli/fonts`.

use krilla::text::{Font, GlyphId};
use skrifa::{
    FontRef, MetadataProvider,
    charmap::Charmap,
    instance::{LocationRef, Size},
    metrics::GlyphMetrics,
};
use std::sync::LazyLock;

/// A face of the font.
pub(super) struct Face {
    pub(super) font: Font,
    letters: Charmap<'static>,
    metrics: GlyphMetrics<'static>,
    units: f32,
}

/// Letters that the font has not, and that are drawn as the like of them.
const LIKE: &[(char, char)] = &[
    ('\u{2010}', '-'),
    ('\u{2011}', '-'),
    ('\u{202f}', '\u{a0}'),
    ('\u{205f}', ' '),
    ('\u{3000}', ' '),
];

impl Face {
    /// Regular or bold.
    pub(super) fn regular_or_bold(is_bold: bool) -> &'static Self {
        static REGULAR: LazyLock<Face> = LazyLock::new(|| {
            Face::from_font(include_bytes!("../../../fonts/LiberationSans-Regular.ttf"))
        });
        static BOLD: LazyLock<Face> = LazyLock::new(|| {
            Face::from_font(include_bytes!("../../../fonts/LiberationSans-Bold.ttf"))
        });
        if is_bold { &BOLD } else { &REGULAR }
    }

    fn from_font(file: &'static [u8]) -> Self {
        let font = Font::new(file.into(), 0).expect("the font is part of the program");
        let of_letters = FontRef::new(file).expect("the font is part of the program");
        Self {
            units: font.units_per_em(),
            letters: of_letters.charmap(),
            metrics: of_letters.glyph_metrics(Size::unscaled(), LocationRef::default()),
            font,
        }
    }

    fn known(&self, letter: char) -> Option<skrifa::GlyphId> {
        let like = LIKE.iter().find(|(own, _)| *own == letter);
        let like = like.map(|(_, like)| *like);
        let drawn = self.letters.map(letter);
        drawn.or_else(|| self.letters.map(like?))
    }

    /// True where the font has the letter or the like of it.
    pub(super) fn has(&self, letter: char) -> bool {
        self.known(letter).is_some()
    }

    /// How a letter is drawn, and its width in shares of the font size; one that the font has not is an empty frame.
    pub(super) fn glyph(&self, letter: char) -> (GlyphId, f32) {
        let id = self.known(letter).unwrap_or_default();
        let width = self.metrics.advance_width(id).unwrap_or_default();
        (GlyphId::new(id.to_u32()), width / self.units)
    }
}
