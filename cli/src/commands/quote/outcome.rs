//! `ellwand quote outcome`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::outcome,
    verb::{Run, Verb},
};
use ellwand_contract::outcomes::{GetGarmentOutcome, GetOutcome, Outcome};
use ellwand_domain::code::{GarmentCode, QuotationCode};

/// Show the outcome of an accepted quotation: planned, quoted and actual cost, and what an hour really earned
///
/// Lists the plan as it is now, what was quoted and what is booked, line by line; then where the difference comes from.
/// Material is broken down by price and quantity, work by rate and time, overhead by rate and extra hours, for what was
/// actually made; own mistakes, faulty cloth and the customer's changes are listed separately. Own hours count at the pay
/// wanted, as in the quotation. Figures are for planning.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote outcome Q1
  ellwand quote outcome G5")]
pub struct Args {
    /// Quotation, such as Q1, or its garment, such as G5
    #[arg(value_name = "QUOTATION", value_parser = which)]
    of: Of,
}

/// A quotation, by its own code or by its garment's.
#[derive(Debug, Clone, Copy)]
enum Of {
    Quotation(QuotationCode),
    Garment(GarmentCode),
}

fn which(text: &str) -> Result<Of, String> {
    match text.parse() {
        Ok(code) => Ok(Of::Garment(code)),
        Err(_) => text
            .parse()
            .map(Of::Quotation)
            .map_err(|error| error.to_string()),
    }
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        match self.of {
            Of::Quotation(quotation) => GetOutcome { quotation }.run(context),
            Of::Garment(garment) => GetGarmentOutcome { garment }.run(context),
        }
    }
}

impl Verb for GetOutcome {
    fn show(&self, answer: Outcome, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        outcome::show(context.ui, shown, &answer);
        Ok(())
    }
}

impl Verb for GetGarmentOutcome {
    fn show(&self, answer: Outcome, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        outcome::show(context.ui, shown, &answer);
        Ok(())
    }
}
