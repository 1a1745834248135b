//! Why a seam was refused, with the field that it is about and what to do.

use crate::{Problem, ProblemType};
use ellwand_domain::thread::SeamError;

/// Hint for a figure that has to be measured.
const MEASURE: &str = "sew a longer piece of it, measure 3 cm and unpick them: \
                       sample=3cm,sample-needle=9cm,sample-under=8cm";

/// A refusal of the domain, with the field that it is about.
#[must_use]
pub fn refused(error: &SeamError) -> Box<Problem> {
    let (field, hint) = match error {
        SeamError::NotAStitch { .. } | SeamError::NotAWord { .. } => (
            "stitch",
            Some(
                "301 lockstitch, 401 chain, 504 overlock, back (by hand); all: ellwand help seams",
            ),
        ),
        SeamError::Unknown { .. } => ("stitch", Some(MEASURE)),
        SeamError::Missing { measure, .. } => {
            (*measure, Some("measure it, or give a sample or each=…"))
        }
        SeamError::NotPositive { measure } | SeamError::TooLarge { measure } => (*measure, None),
        SeamError::Count { .. } => ("count", None),
        SeamError::NoLength => (
            "length",
            Some("give the length of one, for example length=62cm"),
        ),
        SeamError::EmptySample | SeamError::ShortSample => ("sample", Some(MEASURE)),
        SeamError::OneThread { .. } => {
            ("under", Some("leave the under thread and needle-share out"))
        }
        SeamError::Share => ("needle_share", None),
        SeamError::ShareUnknown { .. } => (
            "under",
            Some("take both from one role, or give needle-share=30%, or a sample"),
        ),
        SeamError::Overflow => ("length", None),
    };
    let problem = invalid(field, error.to_string());
    match hint {
        Some(hint) => Box::new(problem.hint(hint)),
        None => problem,
    }
}

/// A value that is not accepted.
pub(super) fn invalid(field: &str, detail: impl Into<String>) -> Box<Problem> {
    Box::new(Problem::new(ProblemType::InvalidValue, detail).field(field))
}
