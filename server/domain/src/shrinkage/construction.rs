//! A construction in the trade's words: what it says of woven, knitted and felted cloth.

/// How a cloth holds together, as far as shrinkage goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Structure {
    /// Woven, or not stated.
    Woven,
    Knit,
    /// Felted, raised beyond its weave, knotted: no figure was found.
    Other,
}

/// Words of knitted cloth (common practice).
const KNIT: &[&str] = &[
    "knit",
    "knits",
    "knitted",
    "jersey",
    "rib",
    "ribbed",
    "ribbing",
    "interlock",
    "tricot",
    "ponte",
    "sweatshirt",
    "sweatshirting",
    "loopback",
    "frenchterry",
    "raschel",
    "crochet",
    "crocheted",
];

/// Words of cloth that is neither woven nor knitted as the figures mean it (common practice).
const OTHER: &[&str] = &[
    "felt", "felted", "boiled", "fleece", "sherpa", "nonwoven", "lace", "net", "tulle", "netting",
];

/// A finish that takes most of the shrinkage out.
pub(super) const PRESHRUNK: &[&str] = &[
    "preshrunk",
    "shrunk",
    "compressive",
    "sanforised",
    "sanforized",
];

/// No such finish.
pub(super) const LOOMSTATE: &[&str] = &[
    "loomstate",
    "greige",
    "unfinished",
    "unsanforised",
    "unsanforized",
    "unshrunk",
];

/// The words of a construction, in small letters; `pre-shrunk` and `pre shrunk` both hold `preshrunk`.
pub(super) struct Words(Vec<String>);

impl Words {
    pub(super) fn new(construction: Option<&str>) -> Self {
        let text = construction.unwrap_or_default().to_lowercase();
        let single: Vec<String> = text
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .map(str::to_owned)
            .collect();
        let pairs: Vec<String> = single.windows(2).map(<[String]>::concat).collect();
        Self(single.into_iter().chain(pairs).collect())
    }

    /// True when it contains one of the words.
    pub(super) fn contain(&self, words: &[&str]) -> bool {
        self.0.iter().any(|word| words.contains(&word.as_str()))
    }

    pub(super) fn structure(&self) -> Structure {
        if self.contain(OTHER) {
            Structure::Other
        } else if self.contain(KNIT) {
            Structure::Knit
        } else {
            Structure::Woven
        }
    }
}
