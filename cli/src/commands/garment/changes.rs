//! What differs from a plan: flags and a file, for `edit` and `copy`.

use super::{
    parts::{self, ChangeOf},
    plan_file::locate,
};
use crate::{command_error::CommandError, file::TextFile, pairs, slips::refusal};
use ellwand_contract::{
    garments::{NeedChange, NeedInput, OperationChange, OperationInput, PartInput, PlanChanges},
    seams::SeamInput,
};
use std::path::PathBuf;

// Beside the flags of the act. A doc comment would become the help of the command.
#[derive(Debug, clap::Args)]
#[group(skip)]
pub struct Beside {
    /// What differs of a part, by its need and name, or a new one: 'need=collar canvas,name=collar,length=47cm'; may be repeated
    #[arg(long, value_name = "PAIRS", value_parser = parts::parse_change)]
    part: Vec<ChangeOf>,
    /// Read what differs from a TOML file; the flags come after it
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
}

impl Beside {
    /// All that differs, and the file that some of it comes from.
    pub fn changes(
        self,
        mut flags: PlanChanges,
    ) -> Result<(PlanChanges, Option<TextFile>), CommandError> {
        parts::add(&mut flags.needs, self.part);
        let Some(path) = &self.file else {
            return Ok((flags, None));
        };
        let file = TextFile::read(path)?;
        let (changes, mut slips) = file.parse::<PlanChanges>();
        if let Some(changes) = &changes {
            slips.extend(check(&file, "", &changes.needs, &changes.operations));
            for (index, seam) in changes.seams.iter().enumerate() {
                let found = pairs::check::<SeamInput>(seam);
                slips.extend(placed(&file, &format!("seam[{index}]"), found));
            }
        }
        match changes.filter(|_| slips.is_empty()) {
            Some(changes) => Ok((changes.and(flags), Some(file))),
            None => Err(refusal(
                &slips,
                "nothing was changed; ellwand garment plan --help lists the keys",
            )),
        }
    }
}

/// A refusal, with its line if it names a field of the file.
pub fn located(file: Option<&TextFile>, error: CommandError) -> CommandError {
    match file {
        Some(file) => locate(file, error),
        None => error,
    }
}

/// Every quantity of needs and operations at a place of the file that cannot be read, with its line.
pub fn check(
    file: &TextFile,
    place: &str,
    needs: &[NeedChange],
    operations: &[OperationChange],
) -> Vec<String> {
    let mut slips = Vec::new();
    for (index, need) in needs.iter().enumerate() {
        let place = format!("{place}need[{index}]");
        slips.extend(placed(file, &place, pairs::check::<NeedInput>(need)));
        let parts = need.clone().take_parts().unwrap_or_default();
        for (number, part) in parts.iter().enumerate() {
            let place = format!("{place}.part[{number}]");
            slips.extend(placed(file, &place, pairs::check::<PartInput>(part)));
        }
    }
    for (index, operation) in operations.iter().enumerate() {
        let place = format!("{place}operation[{index}]");
        slips.extend(placed(
            file,
            &place,
            pairs::check::<OperationInput>(operation),
        ));
    }
    slips
}

fn placed(file: &TextFile, place: &str, found: Vec<(String, String)>) -> Vec<String> {
    let placed = |(key, message): (String, String)| {
        let line = file.line_of(&format!("{place}.{key}")).unwrap_or(1);
        file.fault(line, &format!("{key}: {message}")).message()
    };
    found.into_iter().map(placed).collect()
}
