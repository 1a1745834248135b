//! `ellwand workshop set`.

use super::show::show;
use crate::{command_error::CommandError, context::Context, typed::checked};
use ellwand_contract::{Typed, workshop::SetWorkshop};
use ellwand_domain::{
    quantity::{Currency, Micrometres},
    setting::{OffcutValue, PooledMethod, PricesShown, Rounding, TaxPlace},
};

/// Change settings; what is not given stays
///
/// The general flag --units sets the units that the workshop reads.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop set --currency EUR --zone Europe/Vienna --units metric --cutting-step 5cm --end-allowance 4cm
  ellwand workshop set --name 'Slipway Workshop' --address '3 Slip Lane' --address '2450 Smallport'
  ellwand workshop set --cash-step 0.05")]
pub struct Args {
    /// Currency of the books, ISO 4217; fixed by the first purchase or quotation
    #[arg(long, value_name = "CODE", value_parser = checked::<Currency>)]
    currency: Option<String>,
    /// Time zone, IANA: Europe/Vienna
    #[arg(long, value_name = "ZONE")]
    zone: Option<String>,
    /// Lengths are rounded up to it
    #[arg(long, value_name = "LENGTH")]
    cutting_step: Option<Typed<Micrometres>>,
    /// Added to each length for squaring and ply ends
    #[arg(long, value_name = "LENGTH")]
    end_allowance: Option<Typed<Micrometres>>,
    /// Shorter offcuts are waste
    #[arg(long, value_name = "LENGTH")]
    offcut_length: Option<Typed<Micrometres>>,
    /// Narrower offcuts are waste
    #[arg(long, value_name = "WIDTH")]
    offcut_width: Option<Typed<Micrometres>>,
    /// What a kept side strip is worth: area (its share) or zero
    #[arg(long, value_name = "WORTH")]
    strip_value: Option<OffcutValue>,
    /// How thread and trims are valued: fifo or average; fixed by the first receipt
    #[arg(long, value_name = "METHOD")]
    pooled_method: Option<PooledMethod>,
    /// Prices on quotations: without-tax, or with-tax inside
    #[arg(long, value_name = "SHOWN")]
    prices: Option<PricesShown>,
    /// How tax is rounded: half-up, half-down, half-even, down
    #[arg(long, value_name = "MODE")]
    tax_rounding: Option<Rounding>,
    /// Where tax is rounded: line, rate, invoice
    #[arg(long, value_name = "PLACE")]
    tax_place: Option<TaxPlace>,
    /// Smallest step of cash, such as 0.05 for CHF and CAD or 0.50 for DKK; none where cash is paid to the minor unit
    #[arg(long, value_name = "AMOUNT")]
    cash_step: Option<String>,
    /// The workshop's own name at the head of quotations; '' takes it out
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    /// A line of its address, once a line, all of them; '' takes the address out
    #[arg(long, value_name = "LINE")]
    address: Vec<String>,
    /// Only if the settings are still at this version, as --json shows it
    #[arg(long, value_name = "NUMBER")]
    if_version: Option<i64>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = SetWorkshop {
        id: context.new_id(),
        currency: args.currency.map(|code| code.to_uppercase()),
        zone: args.zone,
        units: context.typed_units(),
        cutting_step: args.cutting_step,
        end_allowance: args.end_allowance,
        offcut_length: args.offcut_length,
        offcut_width: args.offcut_width,
        strip_value: args.strip_value,
        pooled_method: args.pooled_method,
        prices_shown: args.prices,
        tax_rounding: args.tax_rounding,
        tax_place: args.tax_place,
        cash_step: args.cash_step,
        name: args.name,
        address: Some(args.address).filter(|lines| !lines.is_empty()),
        if_version: args.if_version,
    };
    let nothing = SetWorkshop {
        id: act.id,
        currency: None,
        zone: None,
        units: None,
        cutting_step: None,
        end_allowance: None,
        offcut_length: None,
        offcut_width: None,
        strip_value: None,
        pooled_method: None,
        prices_shown: None,
        tax_rounding: None,
        tax_place: None,
        cash_step: None,
        name: None,
        address: None,
        if_version: args.if_version,
    };
    if serde_json::to_value(&act).ok() == serde_json::to_value(&nothing).ok() {
        return Err(CommandError::usage_hint(
            "nothing was named to change",
            "see `ellwand workshop set --help` for the settings, and `ellwand workshop` for their values",
        ));
    }
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    context.ui.status("Changed the workshop's settings.");
    Ok(())
}
