//! What a file says of a part in words: lines of `Key: value`.

use crate::error::PatternError;
use ellwand_domain::setting::Grain;

/// What is said of a part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Keys {
    pub(crate) name: Option<String>,
    pub(crate) need: Option<String>,
    pub(crate) count: Option<i64>,
    pub(crate) pairs: bool,
    pub(crate) grain: Option<Grain>,
}

impl Keys {
    /// Reads a line; what is no key, or one that is not known, is left.
    ///
    /// `Piece name` and `Quantity` are the words of ASTM D6673 for a name and a count (from memory). A quantity of two numbers,
    /// `1,1`, is so many as drawn and so many turned over.
    pub(crate) fn line(&mut self, part: &str, line: &str) -> Result<(), PatternError> {
        let Some((key, value)) = line.split_once([':', '=']) else {
            return Ok(());
        };
        let (key, value) = (key.trim().to_lowercase(), value.trim());
        if value.is_empty() {
            return Ok(());
        }
        match key.as_str() {
            "name" | "piece name" | "part" => self.name = Some(value.to_owned()),
            "need" | "role" => self.need = Some(value.to_lowercase()),
            "count" | "quantity" => self.quantity(part, value)?,
            "pairs" | "pair" => self.pairs = is_yes(part, value)?,
            "grain" => {
                self.grain = Some(value.parse().map_err(|_| PatternError::Word {
                    part: part.to_owned(),
                    key: "grain",
                    value: value.to_owned(),
                    expected: "use lengthwise, crosswise or bias",
                })?);
            }
            _ => {}
        }
        Ok(())
    }

    fn quantity(&mut self, part: &str, value: &str) -> Result<(), PatternError> {
        let wrong = || PatternError::Word {
            part: part.to_owned(),
            key: "count",
            value: value.to_owned(),
            expected: "write a whole number from 1 to 1000, such as 2",
        };
        let numbers: Vec<i64> = value
            .split(',')
            .map(|number| number.trim().parse().map_err(|_| wrong()))
            .collect::<Result<_, _>>()?;
        let (count, pairs) = match numbers.as_slice() {
            [count] => (*count, self.pairs),
            [drawn, 0] => (*drawn, false),
            [drawn, turned] if drawn == turned => (drawn.saturating_mul(2), true),
            _ => return Err(wrong()),
        };
        if !(1..=1_000).contains(&count) {
            return Err(wrong());
        }
        (self.count, self.pairs) = (Some(count), pairs);
        Ok(())
    }
}

fn is_yes(part: &str, value: &str) -> Result<bool, PatternError> {
    match value.to_lowercase().as_str() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        _ => Err(PatternError::Word {
            part: part.to_owned(),
            key: "pairs",
            value: value.to_owned(),
            expected: "use yes or no",
        }),
    }
}
