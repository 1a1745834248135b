//! The usual operations, which are settings.

use super::Sets;
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid, not_found},
        perform::Perform,
    },
    people::parties::clean_name,
};
use ellwand_contract::operations::{
    ForgetOperation, ListOperations, SetOperation, UsualOperation, UsualOperations,
};
use ellwand_domain::{quantity::Minutes, setting::WorkKind};
use ellwand_storage::{Tx, UsualOperation as Row};

impl Perform for ListOperations {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<UsualOperations, Failure> {
        all(desk)
    }
}

impl Sets for SetOperation {
    fn set(&self, desk: &mut Desk<'_>) -> Done<UsualOperation> {
        let name = clean_name("name", &self.name)?;
        if self.minutes.value() == Minutes::ZERO {
            let detail = format!(
                "\"{}\" is no time at all; give a minute or more",
                self.minutes.text()
            );
            return Err(invalid("minutes", detail)
                .with("wanted_minutes", 0)
                .with("least_minutes", 1));
        }
        let before = desk.tx.usual_operation(&name)?;
        let kind = self
            .kind
            .or(before.as_ref().map(|row| row.kind))
            .unwrap_or(WorkKind::Hand);
        let was = before.map(|row| row.billable);
        let row = Row {
            name,
            kind,
            minutes: self.minutes.value().get(),
            billable: self.billable.or(was).unwrap_or(kind != WorkKind::Admin),
        };
        desk.tx.save_usual_operation(&row)?;
        Ok(view(row))
    }
}

impl Sets for ForgetOperation {
    fn set(&self, desk: &mut Desk<'_>) -> Done<UsualOperations> {
        let name = clean_name("name", &self.name)?;
        if !desk.tx.delete_usual_operation(&name)? {
            let hint = "see the usual operations with ellwand operation list";
            return Err(not_found(format!("usual operation \"{name}\""), hint));
        }
        all(desk)
    }
}

fn all(tx: &mut Tx<'_>) -> Done<UsualOperations> {
    Ok(UsualOperations {
        operations: tx.usual_operations()?.into_iter().map(view).collect(),
    })
}

fn view(row: Row) -> UsualOperation {
    let Row {
        name,
        kind,
        minutes,
        billable,
    } = row;
    UsualOperation {
        name,
        kind,
        minutes,
        billable,
    }
}
