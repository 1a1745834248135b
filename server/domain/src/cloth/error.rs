//! Why cloth data were refused.

use crate::quantity::{PartsPerMillion, QuantityError};

/// Why fibres or a sum over cloth were refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ClothError {
    /// A name that is on no list of fibres.
    #[error("\"{name}\" is not a fibre name of the EU or US lists{}", did_you_mean(*nearest))]
    UnknownFibre {
        /// What was typed.
        name: String,
        /// The nearest spelling.
        nearest: Option<&'static str>,
    },
    /// No fibre at all.
    #[error("no fibre was given, for example cotton 97%, elastane 3%")]
    NoFibres,
    /// A fibre named twice, perhaps under two names.
    #[error("{fibre} is named twice, add its shares together")]
    RepeatedFibre {
        /// Its generic name.
        fibre: &'static str,
    },
    /// A share of nothing or less.
    #[error("the share of {fibre} is {share}, it must be above zero")]
    NoShare {
        /// The fibre.
        fibre: String,
        /// The share.
        share: PartsPerMillion,
    },
    /// A share that is missing where more than one fibre is named.
    #[error("\"{text}\" needs a share, for example cotton 97%")]
    MissingShare {
        /// What was typed.
        text: String,
    },
    /// Shares that do not add up.
    #[error("the fibre shares add up to {sum}, they must be 100 % exactly")]
    SharesNotWhole {
        /// Their sum.
        sum: PartsPerMillion,
    },
    /// A number.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

fn did_you_mean(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |nearest| format!("; did you mean {nearest}?"))
}
