//! A plan in a TOML file, whose lines are named in errors.

use crate::{command_error::CommandError, file::TextFile, pairs, slips::refusal};
use ellwand_contract::{
    garments::{NeedInput, PlanGarment},
    problem::OneError,
};
use serde::Serialize;
use std::path::Path;

/// A plan in a file.
#[derive(Debug)]
pub struct PlanFile {
    file: TextFile,
    /// The plan, with an id of its own.
    pub plan: PlanGarment,
}

impl PlanFile {
    /// Reads a plan; a quantity that cannot be read is found here and named with its line.
    ///
    /// # Errors
    /// Exit 2 with the file and the line.
    pub fn read(path: &Path) -> Result<Self, CommandError> {
        Self::parse(TextFile::read(path)?)
    }

    fn parse(file: TextFile) -> Result<Self, CommandError> {
        let (plan, mut slips) = file.parse::<PlanGarment>();
        if let Some(plan) = &plan {
            slips.extend(check_needs(&file, &plan.needs));
            for (index, seam) in plan.seams.iter().enumerate() {
                slips.extend(check(&file, &format!("seam[{index}]"), seam));
            }
        }
        match plan.filter(|_| slips.is_empty()) {
            Some(plan) => Ok(Self { file, plan }),
            None => {
                let hint = "nothing was planned; ellwand garment plan --help lists the keys";
                Err(refusal(&slips, hint))
            }
        }
    }

    /// A refusal, with its line if it names a field of the file.
    pub fn locate(&self, error: CommandError) -> CommandError {
        locate(&self.file, error)
    }
}

/// A refusal, each of its errors with its line where it names a field of the file.
pub fn locate(file: &TextFile, error: CommandError) -> CommandError {
    placed(error, |field| {
        let line = file.line_of(field)?;
        Some(format!("{}, line {line}: ", file.name))
    })
}

/// A refusal of several flags at once: each of its errors with its flag, `--need 2: `.
pub fn numbered(error: CommandError) -> CommandError {
    match &error {
        CommandError::Problem { problem, .. } if problem.errors().len() > 1 => {
            placed(error, |field| {
                let (list, rest) = field.split_once('[')?;
                let number: usize = rest.split_once(']')?.0.parse().ok()?;
                Some(format!("--{list} {}: ", number.saturating_add(1)))
            })
        }
        _ => error,
    }
}

/// A refusal, each of its errors behind the place of its field.
fn placed(error: CommandError, place: impl Fn(&str) -> Option<String>) -> CommandError {
    let CommandError::Problem {
        mut problem,
        repeat,
    } = error
    else {
        return error;
    };
    let errors = problem.errors();
    let are_several = errors.len() > 1;
    let line = |error: OneError| {
        let place = error.field.as_deref().and_then(&place).unwrap_or_default();
        let hint = error.hint.filter(|_| are_several);
        let hint = hint.map_or_else(String::new, |hint| format!("; {hint}"));
        format!("{place}{}{hint}", error.detail)
    };
    let lines: Vec<String> = errors.into_iter().map(line).collect();
    if are_several {
        problem.hint = Some("nothing was booked".to_owned());
    }
    problem.detail = lines.join("\n");
    CommandError::Problem { problem, repeat }
}

/// Reads every typed quantity of the needs; what cannot be read, each with its line.
fn check_needs(file: &TextFile, needs: &[NeedInput]) -> Vec<String> {
    let mut slips = Vec::new();
    for (index, need) in needs.iter().enumerate() {
        let place = format!("need[{index}]");
        slips.extend(check(file, &place, need));
        for (number, part) in need.parts.iter().enumerate() {
            slips.extend(check(file, &format!("{place}.part[{number}]"), part));
        }
    }
    slips
}

/// Reads every typed quantity of what stands at a place of the file.
fn check<A: clap::Args + Serialize>(file: &TextFile, place: &str, of: &A) -> Vec<String> {
    let slips = pairs::check::<A>(of).into_iter();
    let slips = slips.map(|(key, message)| {
        let line = file.line_of(&format!("{place}.{key}")).unwrap_or(1);
        file.fault(line, &format!("{key}: {message}")).message()
    });
    slips.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_contract::{Problem, ProblemType};

    const HEAD: &str = "name = \"coat\"\n\n[[need]]\nrole = \"shell\"\nkind = \"cloth\"\n";

    fn parse(rest: &str) -> Result<PlanFile, String> {
        let file = TextFile {
            name: "plan.toml".to_owned(),
            text: format!("{HEAD}{rest}"),
        };
        PlanFile::parse(file).map_err(|error| error.message())
    }

    #[test]
    fn a_plan_is_the_request_in_toml() {
        let plan = parse("length = \"2.60m\"\nwidth = \"140cm\"\n")
            .expect("a plan")
            .plan;
        assert_eq!(
            (plan.name.as_str(), plan.count, plan.needs.len()),
            ("coat", 1, 1)
        );
        assert_eq!(plan.needs[0].length.as_deref(), Some("2.60m"));
    }

    #[test]
    fn an_error_names_its_line() {
        let fault = |rest| parse(rest).expect_err("a faulty plan");
        assert!(
            fault("length = \"2.60\"\n")
                .starts_with("plan.toml, line 6: length: \"2.60\" needs a unit")
        );
        assert!(
            fault("width = \"140cm\"\nmass_min = \"200\"\n")
                .starts_with("plan.toml, line 7: mass_min: ")
        );
        assert!(fault("\nlenght = \"2.60m\"\n").starts_with("plan.toml, line 7: unknown field"));
        assert!(fault("length = \n").starts_with("plan.toml, line 6: "));
        let part = "\n[[need.part]]\nname = \"collar\"\nlength = \"46cm\"\nwidth = ";
        assert!(
            fault(&format!("{part}\"12\"\n"))
                .starts_with("plan.toml, line 10: width: \"12\" needs a unit")
        );
        let plan = parse(&format!("{part}\"12cm\"\ncut = \"inside\"\n"))
            .expect("a plan")
            .plan;
        assert_eq!(
            (
                plan.needs[0].parts[0].count,
                plan.needs[0].parts[0].name.as_str()
            ),
            (1, "collar")
        );
    }

    #[test]
    fn a_refusal_names_the_line_of_its_field() {
        let file = parse("material = \"M9\"\n").expect("a plan");
        let problem = Problem::new(ProblemType::NotFound, "there is no material M9")
            .field("need[0].material");
        assert_eq!(
            file.locate(problem.into()).message(),
            "plan.toml, line 6: there is no material M9"
        );
        let elsewhere = Problem::new(ProblemType::Unavailable, "the book is locked");
        assert_eq!(
            file.locate(elsewhere.into()).message(),
            "the book is locked"
        );
    }
}
