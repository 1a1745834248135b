//! Letters that the WinAnsi encoding has not, and Helvetica has: those of Central and Eastern Europe, Turkish and the Baltic
//! languages. They are in a second encoding of the same fonts.
//!
//! Source of names and widths: Adobe Core 14 Font Metrics, version 002.000 (1997), the `N` and `WX` of `Helvetica.afm` and
//! `Helvetica-Bold.afm`, whose notice stands in `widths`.

/// A letter.
pub(super) struct Beyond {
    pub(super) letter: char,
    /// As the font calls it.
    pub(super) name: &'static str,
    /// In thousandths of the font size.
    regular: u16,
    bold: u16,
}

impl Beyond {
    /// Its width in thousandths of the font size.
    pub(super) const fn width(&self, is_bold: bool) -> u16 {
        if is_bold { self.bold } else { self.regular }
    }
}

/// The code of the first letter in the second encoding.
pub(super) const FIRST: u8 = 33;

/// Place of a letter in [`LETTERS`]. `Ţ` and `ţ` are drawn as the Romanian letters that they stood for.
pub(super) fn place(letter: char) -> Option<usize> {
    let letter = match letter {
        'Ţ' => 'Ț',
        'ţ' => 'ț',
        letter => letter,
    };
    LETTERS
        .binary_search_by_key(&letter, |beyond| beyond.letter)
        .ok()
}

const fn letter(letter: char, name: &'static str, regular: u16, bold: u16) -> Beyond {
    Beyond {
        letter,
        name,
        regular,
        bold,
    }
}

/// In the order of their code points.
pub(super) const LETTERS: &[Beyond] = &[
    letter('Ā', "Amacron", 667, 722),
    letter('ā', "amacron", 556, 556),
    letter('Ă', "Abreve", 667, 722),
    letter('ă', "abreve", 556, 556),
    letter('Ą', "Aogonek", 667, 722),
    letter('ą', "aogonek", 556, 556),
    letter('Ć', "Cacute", 722, 722),
    letter('ć', "cacute", 500, 556),
    letter('Č', "Ccaron", 722, 722),
    letter('č', "ccaron", 500, 556),
    letter('Ď', "Dcaron", 722, 722),
    letter('ď', "dcaron", 643, 743),
    letter('Đ', "Dcroat", 722, 722),
    letter('đ', "dcroat", 556, 611),
    letter('Ē', "Emacron", 667, 667),
    letter('ē', "emacron", 556, 556),
    letter('Ė', "Edotaccent", 667, 667),
    letter('ė', "edotaccent", 556, 556),
    letter('Ę', "Eogonek", 667, 667),
    letter('ę', "eogonek", 556, 556),
    letter('Ě', "Ecaron", 667, 667),
    letter('ě', "ecaron", 556, 556),
    letter('Ğ', "Gbreve", 778, 778),
    letter('ğ', "gbreve", 556, 611),
    letter('Ģ', "Gcommaaccent", 778, 778),
    letter('ģ', "gcommaaccent", 556, 611),
    letter('Ī', "Imacron", 278, 278),
    letter('ī', "imacron", 278, 278),
    letter('Į', "Iogonek", 278, 278),
    letter('į', "iogonek", 222, 278),
    letter('İ', "Idotaccent", 278, 278),
    letter('ı', "dotlessi", 278, 278),
    letter('Ķ', "Kcommaaccent", 667, 722),
    letter('ķ', "kcommaaccent", 500, 556),
    letter('Ĺ', "Lacute", 556, 611),
    letter('ĺ', "lacute", 222, 278),
    letter('Ļ', "Lcommaaccent", 556, 611),
    letter('ļ', "lcommaaccent", 222, 278),
    letter('Ľ', "Lcaron", 556, 611),
    letter('ľ', "lcaron", 299, 400),
    letter('Ł', "Lslash", 556, 611),
    letter('ł', "lslash", 222, 278),
    letter('Ń', "Nacute", 722, 722),
    letter('ń', "nacute", 556, 611),
    letter('Ņ', "Ncommaaccent", 722, 722),
    letter('ņ', "ncommaaccent", 556, 611),
    letter('Ň', "Ncaron", 722, 722),
    letter('ň', "ncaron", 556, 611),
    letter('Ō', "Omacron", 778, 778),
    letter('ō', "omacron", 556, 611),
    letter('Ő', "Ohungarumlaut", 778, 778),
    letter('ő', "ohungarumlaut", 556, 611),
    letter('Ŕ', "Racute", 722, 722),
    letter('ŕ', "racute", 333, 389),
    letter('Ŗ', "Rcommaaccent", 722, 722),
    letter('ŗ', "rcommaaccent", 333, 389),
    letter('Ř', "Rcaron", 722, 722),
    letter('ř', "rcaron", 333, 389),
    letter('Ś', "Sacute", 667, 667),
    letter('ś', "sacute", 500, 556),
    letter('Ş', "Scedilla", 667, 667),
    letter('ş', "scedilla", 500, 556),
    letter('Ť', "Tcaron", 611, 611),
    letter('ť', "tcaron", 317, 389),
    letter('Ū', "Umacron", 722, 722),
    letter('ū', "umacron", 556, 611),
    letter('Ů', "Uring", 722, 722),
    letter('ů', "uring", 556, 611),
    letter('Ű', "Uhungarumlaut", 722, 722),
    letter('ű', "uhungarumlaut", 556, 611),
    letter('Ų', "Uogonek", 722, 722),
    letter('ų', "uogonek", 556, 611),
    letter('Ź', "Zacute", 611, 611),
    letter('ź', "zacute", 500, 500),
    letter('Ż', "Zdotaccent", 611, 611),
    letter('ż', "zdotaccent", 500, 500),
    letter('Ș', "Scommaaccent", 667, 667),
    letter('ș', "scommaaccent", 500, 556),
    letter('Ț', "Tcommaaccent", 611, 611),
    letter('ț', "tcommaaccent", 278, 333),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_in_order_and_have_a_code_each() {
        assert!(LETTERS.is_sorted_by_key(|beyond| beyond.letter));
        assert!(LETTERS.len() <= usize::from(u8::MAX - FIRST));
        let names: std::collections::BTreeSet<&str> =
            LETTERS.iter().map(|beyond| beyond.name).collect();
        assert_eq!(names.len(), LETTERS.len());
        assert_eq!(place('ţ'), place('ț'));
        assert!(place('é').is_none(), "that one is in WinAnsi");
    }
}
