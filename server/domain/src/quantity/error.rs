//! Why a quantity was refused.

/// Why a typed or computed quantity was refused. The text names what was typed and what to type instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// A number without a unit.
    #[error("\"{text}\" needs a unit, for example {example}")]
    MissingUnit {
        /// What was typed.
        text: String,
        /// The same number with a unit.
        example: String,
    },
    /// Not a number with a unit at all.
    #[error("\"{text}\" is not {expected}, for example {example}")]
    Unreadable {
        /// What was typed.
        text: String,
        /// What was expected, with its article: "a length".
        expected: &'static str,
        /// An accepted form.
        example: &'static str,
    },
    /// Zero or less where something must be there.
    #[error("\"{text}\" must be more than zero")]
    NotPositive {
        /// What was typed.
        text: String,
    },
    /// Below zero.
    #[error("\"{text}\" must not be negative")]
    Negative {
        /// What was typed.
        text: String,
    },
    /// Beyond the limits of the book.
    #[error("\"{text}\" is more than the book can hold ({limit})")]
    TooLarge {
        /// What was typed.
        text: String,
        /// The limit, with its unit.
        limit: &'static str,
    },
    /// More digits than the unit has.
    #[error("\"{text}\" has more digits than {unit} has ({digits} after the point)")]
    TooManyDigits {
        /// What was typed.
        text: String,
        /// Currency or unit.
        unit: String,
        /// Digits the unit has.
        digits: u32,
    },
    /// A sum or product left the range of the book.
    #[error("the result is more than the book can hold ({limit})")]
    Overflow {
        /// The limit, with its unit.
        limit: &'static str,
    },
    /// A subtraction went below zero.
    #[error("the result would be below zero")]
    Underflow,
}
