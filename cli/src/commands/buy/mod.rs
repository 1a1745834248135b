//! `ellwand buy`: logs a purchase.

mod charge;
mod check;
mod line;
mod list;
mod prompts;
pub(crate) mod screen;
mod show;
mod source;

use crate::{
    command_error::CommandError,
    context::Context,
    examples::PURCHASE,
    typed,
    ui::Shown,
    verb::{Run, runs},
};
use chrono::NaiveDate;
use clap::Subcommand;
use ellwand_contract::purchases::{Buy, ChargeInput, GetPurchase, LineInput, Purchase};
use std::path::PathBuf;
use uuid::Uuid;

const HELP: &str = "\
Keys of --line:
  material   name (added if new) or code M3
  kind       cloth, lining, interlining, thread or trim
  paid       4.00m, 3 yd, 1.24kg, 12 pcs
  price      88.00, or per unit: 12.00/yd; 0 for a gift; unknown (or ?) until
             `ellwand lot price L7 24.00` logs it
  replacement  with price=unknown: 12.50/m to buy it again, for quoting alone
  measured   what arrived, if it differs; also about 200m, about 30: estimated
  width      of pieces that are no full width: 70cm of a lot of 140cm
  pieces     2.10m + 1.90m, if it came in several
  full-width, selvedges (both together), mass (270gsm, 8oz/yd2)
  fibres, shrinkage, colour, construction, one-way, repeat, stretch, fusible
  stiffness-lengthwise, -crosswise, -bias, -certainty
  place, dye-lot, owner (a customer), preparation, certainty, note
  line-mass  of all of it, to share freight by mass
  yarn-count, reel-length, tare, size, unit
  reels      thread: how many reels it came on, also given by paid='3 reels';
             each is a piece. They hold reel-length, or share what was paid or
             measured, or what line-mass gives by yarn-count, less a tare each

Keys of --charge:
  freight, duty, tax, discount or other = amount
  by         value (default), length, mass, count, or taxed: a line plus its
             share of the charges in on=1+2
  lines      share it over these lines only: lines=1+3
  reclaim    of a tax: yes (you get it back, so it is no cost) or no (a cost);
             else by `ellwand workshop tax-reclaim` for that day, and a cost
             where that is not set

A *.toml file is the request itself (supplier, date, [[line]], [[charge]] …);
a *.csv file has the keys of --line as its header, one line per row. Errors in
a file name their lines, and nothing in the file is booked. --check lists all
of them at once, and the book's own refusals. --opening takes what was there
when the book began; a value may be an estimate then: price='about 80.00'.

Examples:
  ellwand buy --supplier 'Harbour Cloth Stall' --currency GBP --rate 1.1700 \\
    --line 'material=navy wool,kind=cloth,paid=4.00m,price=88.00,mass=270gsm' \\
    --line 'material=linen,kind=cloth,paid=3.20m,price=35.20,shrinkage=5%/2%' \\
    --charge 'freight=12.00,by=value' --charge 'duty=10.56,lines=1'
  ellwand buy --example > purchase.toml
  ellwand buy --file purchase.toml
  ellwand buy --opening --file shelf.csv --check
  ellwand buy --file cards.csv --supplier 'The Button Room' --date 2026-10-03
  ellwand buy charge P8 'duty=10.56,lines=1'
  ellwand buy show P8";

/// Log a purchase: each line becomes a lot with its landed cost
///
/// On a terminal, without lines or a file, it asks for them.
#[derive(Debug, clap::Args)]
#[command(after_help = HELP)]
pub struct Args {
    #[command(subcommand)]
    verb: Option<Verb>,
    #[command(flatten)]
    purchase: PurchaseFlags,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Charge(charge::Args),
    List(list::Args),
    #[command(after_help = "Example:\n  ellwand buy show P8")]
    Show(GetPurchase),
}

/// A purchase in flags.
#[derive(Debug, Default, clap::Args)]
struct PurchaseFlags {
    /// Supplier by name (added if new) or code
    #[arg(long, value_name = "NAME")]
    supplier: Option<String>,
    /// Date of receipt: 2026-10-03 [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Number on the invoice
    #[arg(long, value_name = "TEXT")]
    invoice: Option<String>,
    /// Currency of the invoice: GBP [default: the workshop's]
    #[arg(long, value_name = "CODE", value_parser = typed::currency)]
    currency: Option<String>,
    /// Rate of the day, in workshop currency for one of the invoice's: 1.1700
    #[arg(long, value_name = "RATE", value_parser = typed::rate, allow_hyphen_values = true, conflicts_with = "home_amount")]
    rate: Option<String>,
    /// Amount paid in the workshop's currency, instead of a rate
    #[arg(long, value_name = "AMOUNT")]
    home_amount: Option<String>,
    /// Note on the purchase
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// What was bought, as key=value pairs; one flag per line
    #[arg(long = "line", value_name = "PAIRS", value_parser = line::parse, conflicts_with = "file")]
    lines: Vec<LineInput>,
    /// Charge on the invoice, as key=value pairs; one flag per charge, in the order in which they are shared
    #[arg(long = "charge", value_name = "PAIRS", value_parser = charge::parse)]
    charges: Vec<ChargeInput>,
    /// Log what was there when the book began: no supplier, no invoice
    #[arg(long)]
    opening: bool,
    /// Book nothing: say what would be logged, or all that is wrong
    #[arg(long)]
    check: bool,
    /// Read the purchase from a file: *.toml or *.csv
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// Print a starter file with comments, to write to a file, change and log
    #[arg(long, exclusive = true)]
    example: bool,
    /// Confirm a file or an invoice that was logged before, a shrinkage with growth above 20 % or a loss above 20 %
    /// lengthwise or 10 % crosswise, the first rate of a
    /// currency, or a rate more than 5 times off the last
    #[arg(long)]
    really: bool,
}

impl PurchaseFlags {
    fn is_empty(&self) -> bool {
        let Self {
            supplier,
            date,
            invoice,
            currency,
            rate,
            home_amount,
            note,
            lines,
            charges,
            file,
            example,
            opening,
            check,
            really,
        } = self;
        let texts = [supplier, invoice, currency, rate, home_amount, note];
        let given = texts.into_iter().any(Option::is_some) || date.is_some() || file.is_some();
        !given
            && lines.is_empty()
            && charges.is_empty()
            && !really
            && !opening
            && !check
            && !example
    }

    /// Lets the flags override a file.
    fn over(self, mut buy: Buy) -> Buy {
        buy.supplier = self.supplier.or(buy.supplier);
        buy.date = self.date.or(buy.date);
        buy.invoice = self.invoice.or(buy.invoice);
        buy.currency = self.currency.or(buy.currency);
        if self.rate.is_some() || self.home_amount.is_some() {
            (buy.rate, buy.home_amount) = (self.rate, self.home_amount);
        }
        buy.note = self.note.or(buy.note);
        buy.lines.extend(self.lines);
        buy.charges.extend(self.charges);
        buy.really |= self.really;
        buy.opening |= self.opening;
        buy.check |= self.check;
        buy
    }
}

runs!(Verb: Charge, List, Show);

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        match self.verb {
            None => buy(self.purchase, context),
            Some(_) if !self.purchase.is_empty() => Err(CommandError::usage_hint(
                "these flags belong to a new purchase, not to another command of `ellwand buy`",
                "put the flags after that command, for example: ellwand buy list --limit 20",
            )),
            Some(verb) => verb.run(context),
        }
    }
}

fn buy(mut flags: PurchaseFlags, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    if flags.example {
        context.ui.text(PURCHASE);
        return Ok(());
    }
    let id = context.new_id();
    let source = match flags.file.take() {
        Some(path) => source::read_source(&path)?,
        None => source::Source::none(),
    };
    let asks = flags.lines.is_empty() && source.is_none();
    if asks {
        prompts::ask(&mut flags, context)?;
    }
    let act = flags.over(source.purchase(id)?);
    if act.check {
        return check_only(&source, act, context);
    }
    source.sound()?;
    source.check(&check::check(&act))?;
    if asks {
        preview(&act, context)?;
    }
    let answer = context.call(&act).map_err(|error| source.locate(error))?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    screen::purchase(context.ui, shown, &answer);
    let lots = ellwand_contract::text::counted(answer.lines.len(), "lot");
    let sentence = format!(
        "Booked {} as {}: {lots} worth {}.",
        answer.purchase,
        answer.booking,
        shown.money(answer.home_total)
    );
    context.ui.status(sentence);
    Ok(())
}

/// Tells all that is wrong with a purchase, of the file and by the book; else what it would log.
fn check_only(
    source: &source::Source,
    mut act: Buy,
    context: &mut Context<'_, '_>,
) -> Result<(), CommandError> {
    let mut slips = source.slips(&check::check(&act));
    let mut kept = Vec::new();
    if !slips.is_empty() {
        // Charges may name lines that cannot be read.
        act.charges.clear();
        kept = source::Source::leave_out(&mut act);
    }
    let answer = match act.lines.is_empty() {
        true => None,
        false => match context.call(&act) {
            Ok(answer) => Some(answer),
            Err(error) if slips.is_empty() => return Err(source.locate(error)),
            Err(error) => {
                slips.extend(source.slips_of_refusal(error, &kept)?);
                None
            }
        },
    };
    let Some(answer) = answer.filter(|_| slips.is_empty()) else {
        source.sort_by_line(&mut slips);
        return Err(source::refused(&slips));
    };
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    context.ui.notes(&answer.notes);
    let sentence = would_log(shown, &answer);
    context.ui.status(format!("Nothing was booked. {sentence}"));
    Ok(())
}

/// Shows what would be logged of what was typed at prompts, and asks.
fn preview(act: &Buy, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let tried = Buy {
        id: Uuid::now_v7(),
        check: true,
        ..act.clone()
    };
    let answer = context.call(&tried)?;
    let shown = context.shown()?;
    context.ui.notes(&answer.notes);
    context.ui.status(would_log(shown, &answer));
    context.confirm("Book it?")
}

/// What a purchase would log.
fn would_log(shown: Shown, answer: &Purchase) -> String {
    let lots = ellwand_contract::text::counted(answer.lines.len(), "lot");
    let some = |count: usize, what: &str| match count {
        0 => String::new(),
        count => format!(", {count} {what}"),
    };
    let unpriced = answer.lines.iter().filter(|line| line.price.is_none());
    let estimated = answer.lines.iter().filter(|line| line.estimated);
    let (unpriced, estimated) = (
        some(unpriced.count(), "without a price"),
        some(estimated.count(), "at an estimated value"),
    );
    let what = if answer.opening {
        " as opening stock"
    } else {
        ""
    };
    format!(
        "It would log {lots}{what} of {} worth {}{unpriced}{estimated}.",
        answer.date,
        shown.money(answer.home_total)
    )
}
