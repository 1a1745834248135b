//! Letters of the WinAnsi encoding, in which the fonts that every reader of PDF has are written.

/// Codes 0x80 to 0x9f (ISO 32000-1:2008, annex D.2); a space where none is assigned.
const FROM_80: &str = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ";

/// For U+0100 to U+017F the letter without its mark.
const PLAIN_100: &[u8; 128] = b"AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlL\
lLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

/// A text in WinAnsi; line breaks stay.
///
/// A letter outside of the encoding becomes the like of it where there is one (`ł` → `l`, `⅝` → ` 5/8`, a narrow
/// space → a space, a combining mark → nothing), else `?`.
pub(super) fn encoded(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len());
    for letter in text.chars() {
        match code(letter) {
            Some(code) => bytes.push(code),
            None => bytes.extend_from_slice(like(letter)),
        }
    }
    bytes
}

fn code(letter: char) -> Option<u8> {
    match letter {
        '\n' | ' '..='~' | '\u{a0}'..='ÿ' => u8::try_from(u32::from(letter)).ok(),
        _ => {
            let place = FROM_80.chars().position(|known| known == letter)?;
            u8::try_from(place).ok()?.checked_add(0x80)
        }
    }
}

fn like(letter: char) -> &'static [u8] {
    match letter {
        'Ĳ' => b"IJ",
        'ĳ' => b"ij",
        '\u{100}'..='\u{17f}' => {
            let place = usize::try_from(u32::from(letter) - 0x100).unwrap_or_default();
            PLAIN_100.get(place..=place).unwrap_or(b"?")
        }
        'Ș' => b"S",
        'ș' => b"s",
        'Ț' => b"T",
        'ț' => b"t",
        'ẞ' => b"SS",
        '⅓' => b" 1/3",
        '⅔' => b" 2/3",
        '⅛' => b" 1/8",
        '⅜' => b" 3/8",
        '⅝' => b" 5/8",
        '⅞' => b" 7/8",
        '‐' | '‑' | '‒' | '−' => b"-",
        '′' => b"'",
        '″' => b"\"",
        '⁄' => b"/",
        '≤' => b"<=",
        '≥' => b">=",
        '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => b" ",
        '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{feff}' | '\u{300}'..='\u{36f}' => b"",
        _ => b"?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_the_encoding_have_its_codes() {
        assert_eq!(encoded("Aé ÿ€ŒŸž–"), b"A\xe9 \xff\x80\x8c\x9f\x9e\x96");
        assert_eq!(FROM_80.chars().count(), 32);
    }

    #[test]
    fn letters_outside_of_it_are_shown_plain_or_as_a_question() {
        assert_eq!(encoded("Łódź, Škoðar, Ďuriš"), b"L\xf3dz, \x8ako\xf0ar, Duri\x9a");
        assert_eq!(encoded("ůřęőığ"), b"ureoig");
        assert_eq!(encoded("2⅝″ −4\u{202f}€ u\u{308}"), b"2 5/8\" -4 \x80 u");
        assert_eq!(encoded("布 Ж\u{fffd}"), b"? ??");
    }
}
