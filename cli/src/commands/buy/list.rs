//! `ellwand buy list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right},
    verb::Run,
};
use ellwand_contract::purchases::ListPurchases;

#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand buy list --limit 20")]
pub struct Args {
    #[command(flatten)]
    act: ListPurchases,
    /// Show all rows
    #[arg(long)]
    all: bool,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut answer = context.call(&self.act)?;
        while let Some(after) = answer.meta.next.take_if(|_| self.all) {
            self.act.after = Some(after);
            let page = context.call(&self.act)?;
            answer.purchases.extend(page.purchases);
            answer.meta = page.meta;
        }
        if context.json(&answer)? {
            return Ok(());
        }
        if answer.purchases.is_empty() {
            context
                .ui
                .status("No purchases yet; log the first one with `ellwand buy`.");
            return Ok(());
        }
        let shown = context.shown()?;
        let mut table = Table::new([
            left("code"),
            left("date"),
            left("supplier"),
            left("invoice"),
            right(&format!("landed {}", shown.currency())),
            left("state"),
        ]);
        for purchase in &answer.purchases {
            table.row([
                purchase.purchase.to_string(),
                purchase.date.to_string(),
                match (&purchase.supplier, purchase.opening) {
                    (Some(supplier), _) => supplier.clone(),
                    (None, true) => "opening stock".to_owned(),
                    (None, false) => String::new(),
                },
                purchase.invoice.clone().unwrap_or_default(),
                shown.value(purchase.home_total),
                if purchase.taken_back { "undone" } else { "" }.to_owned(),
            ]);
        }
        context.ui.table(&table);
        if let Some(next) = &answer.meta.next {
            context
                .ui
                .hint(format!("there are more: add --all, or --after {next}"));
        }
        Ok(())
    }
}
