//! Seams of a garment's plan: what is sewn, and the thread that it takes.

mod change;
mod plan;
mod show;

pub(crate) use change::{change, copy};
pub(crate) use plan::Planned;

use crate::desk::failure::Failure;

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
