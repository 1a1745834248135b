//! `ellwand material list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, paragraph},
    verb::Verb,
};
use ellwand_contract::sheets::{ListMaterials, Materials};

impl Verb for ListMaterials {
    fn show(&self, answer: Materials, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.materials.is_empty() {
            let kind = self
                .kind
                .map(|kind| format!(" of the kind {kind}"))
                .unwrap_or_default();
            context.ui.status(format!(
                "No materials{kind} yet; they appear with their first purchase."
            ));
            return Ok(());
        }
        let shown = context.shown()?;
        let mut table = Table::headed(
            "code | kind | name | colour | fibres | >mass | >full width | size | >in stock \
             | >value",
        );
        for material in &answer.materials {
            let sheet = &material.sheet;
            let fibres: Vec<String> = sheet
                .fibres
                .iter()
                .map(|f| format!("{} {}", f.share, f.fibre))
                .collect();
            table.row([
                material.material.to_string(),
                material.kind.to_string(),
                material.name.clone(),
                sheet.colour.clone().unwrap_or_default(),
                fibres.join(", "),
                sheet
                    .mass_gsm
                    .map(|mass| shown.mass(mass))
                    .unwrap_or_default(),
                sheet
                    .full_width_m
                    .map(|width| shown.width(width))
                    .unwrap_or_default(),
                sheet
                    .size
                    .clone()
                    .or_else(|| sheet.yarn_count.clone())
                    .unwrap_or_default(),
                material
                    .stock
                    .as_ref()
                    .map(|stock| shown.amount(stock.quantity))
                    .unwrap_or_default(),
                material
                    .stock
                    .as_ref()
                    .map(|stock| {
                        let value = stock.printed.clone().unwrap_or_default();
                        match stock.unpriced {
                            true => format!("{value} not all priced"),
                            false => value,
                        }
                    })
                    .unwrap_or_default(),
            ]);
        }
        context.ui.table(&table);
        for material in &answer.materials {
            if let Some(count) = material.sheet.count() {
                let line = format!(
                    "{} {}: {}",
                    material.material,
                    material.name,
                    count.in_every_system()
                );
                paragraph::show(context.ui, 0, &line);
            }
        }
        Ok(())
    }
}
