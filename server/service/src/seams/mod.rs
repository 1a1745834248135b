//! Seams of a garment's plan: what is sewn, and the thread that it takes.

mod change;
mod plan;
mod read;
mod show;

pub(crate) use change::{Change, change, copy};
pub(crate) use plan::{Planned, kept_row};

use crate::failure::{Failure, invalid};
use ellwand_contract::Problem;
use ellwand_domain::thread::SeamError;

/// What is not known is measured.
const MEASURE: &str = "sew a longer piece of it, measure 3 cm and unpick them: \
                       sample=3cm,sample-needle=9cm,sample-under=8cm";

/// A refusal of the domain, with the field that it is about.
fn refused(error: &SeamError) -> Failure {
    let (field, hint) = match error {
        SeamError::NotAStitch { .. } | SeamError::NotAWord { .. } => {
            ("stitch", Some("see ellwand seam --help for the stitches that are known"))
        }
        SeamError::Unknown { .. } => ("stitch", Some(MEASURE)),
        SeamError::Missing { measure, .. } => (*measure, Some("measure it, or give a sample or each=…")),
        SeamError::NotPositive { measure } | SeamError::TooLarge { measure } => (*measure, None),
        SeamError::Count { .. } => ("count", None),
        SeamError::NoLength => ("length", Some("say how long one is, for example length=62cm")),
        SeamError::EmptySample | SeamError::ShortSample => ("sample", Some(MEASURE)),
        SeamError::OneThread { .. } => ("under", Some("leave the under thread and needle-share out")),
        SeamError::Share => ("needle_share", None),
        SeamError::ShareUnknown { .. } => {
            ("under", Some("take both from one role, or say needle-share=30%, or give a sample"))
        }
        SeamError::Overflow => ("length", None),
    };
    let problem = Problem::from(invalid(field, error.to_string()));
    match hint {
        Some(hint) => problem.hint(hint).into(),
        None => problem.into(),
    }
}

/// Puts a seam's place in the request before the field that a refusal names, and its name before the text.
fn in_seam(index: usize, name: &str, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            problem.field = Some(match problem.field {
                Some(field) => format!("seam[{index}].{field}"),
                None => format!("seam[{index}]"),
            });
            if !name.is_empty() {
                problem.detail = format!("{name}: {}", problem.detail);
            }
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}
