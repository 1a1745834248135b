//! Purchases, quotations and the workshop's rates as they are typed.

use super::{Answer, Asking};
use chrono::NaiveDate;
use clap::{Args, Subcommand};
use ellwand_contract::{
    Typed,
    figures::{GetFigures, SetFigures},
    outcomes::{GetGarmentOutcome, GetOutcome},
    overhead::{GetOverheadSpent, SetOverheadSpent},
    pairs::{self, Pairs, PairsError},
    purchases::{AddCharge, Buy, ChargeInput, GetPurchase, LineInput, ListPurchases},
    quotations::{
        AcceptQuotation, CloseQuotation, GetQuotation, ListQuotations, LogPayment, MakeQuotation,
        Requote,
    },
    workshop::{
        CloseBooks, GetWorkshop, SetOverheadRate, SetPayRate, SetPriceRule, SetTaxRate,
        SetTaxReclaim, SetWorkshop,
    },
};
use ellwand_domain::{
    code::PurchaseCode,
    quantity::{Minutes, PartsPerMillion},
};
use serde_json::{Value, json};
use uuid::Uuid;

#[derive(Args)]
pub struct Buying {
    #[command(subcommand)]
    act: Option<BuyAct>,
    #[arg(long)]
    supplier: Option<String>,
    #[arg(long)]
    date: Option<NaiveDate>,
    #[arg(long)]
    invoice: Option<String>,
    #[arg(long)]
    currency: Option<String>,
    #[arg(long)]
    rate: Option<String>,
    #[arg(long)]
    home_amount: Option<String>,
    #[arg(long)]
    note: Option<String>,
    #[arg(long = "line", value_parser = line)]
    lines: Vec<LineInput>,
    #[arg(long = "charge", value_parser = charge)]
    charges: Vec<ChargeInput>,
    #[arg(long)]
    opening: bool,
    #[arg(long)]
    check: bool,
    #[arg(long)]
    file_sha256: Option<String>,
    #[arg(long)]
    really: bool,
}

#[derive(Subcommand)]
enum BuyAct {
    Charge {
        purchase: PurchaseCode,
        #[arg(value_parser = charge)]
        charge: ChargeInput,
        #[arg(long)]
        currency: Option<String>,
        #[arg(long)]
        rate: Option<String>,
        #[arg(long)]
        date: Option<NaiveDate>,
        #[arg(long)]
        really: bool,
    },
    List(ListPurchases),
    Show(GetPurchase),
}

/// A line names its material by name or by code.
fn line(text: &str) -> Result<LineInput, PairsError> {
    let mut line: LineInput = pairs::parse_args(text)?;
    let material = &mut line.material;
    material.code = material.name.as_ref().and_then(|name| name.parse().ok());
    material.name = material.name.take().filter(|_| material.code.is_none());
    Ok(line)
}

/// `freight=12.00,by=value`, `tax=26.40,by=taxed,on=1+2,reclaim=yes`, `duty=10.56,lines=1`.
fn charge(text: &str) -> Result<ChargeInput, PairsError> {
    const KINDS: [&str; 5] = ["freight", "duty", "tax", "discount", "other"];
    let keys = KINDS.iter().chain(&["by", "on", "lines", "reclaim"]);
    let keys: Vec<String> = keys.map(|key| (*key).to_owned()).collect();
    let mut pairs = Pairs::parse(text, &keys).sound()?;
    let mut kinds = KINDS.into_iter();
    let (kind, amount) = kinds
        .find_map(|kind| Some((kind, pairs.take(kind)?)))
        .unwrap();
    let mut numbers = |key: &str| -> Vec<usize> {
        let numbers = pairs.take(key).unwrap_or_default();
        let numbers = numbers.split('+').filter(|number| !number.is_empty());
        numbers.map(|number| number.parse().unwrap()).collect()
    };
    let (on, lines) = (numbers("on"), numbers("lines"));
    let mut charge = json!({"kind": kind, "amount": amount, "on": on, "lines": lines});
    charge["share"] = pairs.take("by").map_or_else(|| json!("value"), Value::from);
    if let Some(word) = pairs.take("reclaim") {
        charge["reclaim"] = json!(word == "yes");
    }
    Ok(serde_json::from_value(charge).unwrap())
}

impl Buying {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        match self.act {
            None => asking.ask(Buy {
                id: Uuid::nil(),
                supplier: self.supplier,
                date: self.date,
                invoice: self.invoice,
                currency: self.currency,
                rate: self.rate,
                home_amount: self.home_amount,
                note: self.note,
                opening: self.opening,
                check: self.check,
                file_sha256: self.file_sha256,
                lines: self.lines,
                charges: self.charges,
                really: self.really,
            }),
            Some(BuyAct::Charge {
                purchase,
                charge,
                currency,
                rate,
                date,
                really,
            }) => asking.ask(AddCharge {
                id: Uuid::nil(),
                purchase,
                charge,
                currency,
                rate,
                date,
                really,
            }),
            Some(BuyAct::List(act)) => asking.ask(act),
            Some(BuyAct::Show(act)) => asking.ask(act),
        }
    }
}

#[derive(Subcommand)]
pub enum QuoteAct {
    Make(MakeQuotation),
    Again(Requote),
    Show(GetQuotation),
    List(ListQuotations),
    Accept {
        #[command(flatten)]
        act: AcceptQuotation,
        #[arg(long)]
        version: Option<i64>,
    },
    Pay(LogPayment),
    Close(CloseQuotation),
    Outcome {
        of: String,
    },
}

impl QuoteAct {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        match self {
            Self::Make(act) => asking.ask(act),
            Self::Again(act) => asking.ask(act),
            Self::Show(act) => asking.ask(act),
            Self::List(act) => asking.ask(act),
            Self::Accept { mut act, version } => {
                let newest = GetQuotation {
                    quotation: act.quotation,
                    version: None,
                };
                act.version = Some(match version {
                    Some(version) => version,
                    None => asking.call(&newest)?.version,
                });
                asking.ask(act)
            }
            Self::Pay(act) => asking.ask(act),
            Self::Close(act) => asking.ask(act),
            Self::Outcome { of } => match of.parse() {
                Ok(garment) => asking.ask(GetGarmentOutcome { garment }),
                Err(_) => asking.ask(GetOutcome {
                    quotation: of.parse().unwrap(),
                }),
            },
        }
    }
}

#[derive(Subcommand)]
pub enum WorkshopAct {
    Set(Box<SetWorkshop>),
    PayRate {
        #[command(flatten)]
        act: SetPayRate,
        #[arg(long)]
        forget: bool,
    },
    Overhead {
        per_hour: Option<String>,
        #[arg(long)]
        amount: Option<String>,
        #[command(flatten)]
        act: SetOverheadRate,
    },
    Figures(Year),
    Spent {
        #[command(flatten)]
        period: GetOverheadSpent,
        #[arg(long)]
        overhead: Option<String>,
    },
    Tax {
        #[command(flatten)]
        act: SetTaxRate,
        #[arg(long)]
        forget: bool,
    },
    PriceRule {
        #[command(flatten)]
        act: SetPriceRule,
        #[arg(long)]
        forget: bool,
    },
    TaxReclaim {
        #[command(flatten)]
        act: SetTaxReclaim,
        #[arg(long)]
        forget: bool,
    },
    Close(CloseBooks),
}

#[derive(Args)]
pub struct Year {
    #[arg(long)]
    pay: Option<String>,
    #[arg(long)]
    overhead: Option<String>,
    #[arg(long)]
    weeks: Option<i64>,
    #[arg(long)]
    hours: Option<Typed<Minutes>>,
    #[arg(long)]
    billable: Option<Typed<PartsPerMillion>>,
    #[arg(long)]
    from: Option<NaiveDate>,
    #[arg(long)]
    on: Option<NaiveDate>,
    #[arg(long)]
    really: bool,
}

impl WorkshopAct {
    pub fn ask(act: Option<Self>, asking: &Asking<'_>) -> Answer {
        match act {
            None => asking.ask(GetWorkshop {}),
            Some(Self::Set(mut act)) => {
                act.units = asking.units;
                asking.ask(*act)
            }
            Some(Self::PayRate { act, .. }) => asking.ask(act),
            Some(Self::PriceRule { act, .. }) => asking.ask(act),
            Some(Self::Overhead {
                per_hour,
                amount,
                mut act,
            }) => {
                act.amount = amount.or(per_hour).unwrap();
                asking.ask(act)
            }
            Some(Self::Figures(year)) => year.ask(asking),
            Some(Self::Spent { period, overhead }) => match overhead {
                Some(_) => asking.ask(SetOverheadSpent {
                    id: Uuid::nil(),
                    from: period.from.unwrap(),
                    to: period.to.unwrap(),
                    amount: overhead,
                }),
                None => asking.ask(period),
            },
            Some(Self::Tax { act, .. }) => asking.ask(act),
            Some(Self::TaxReclaim { act, .. }) => asking.ask(act),
            Some(Self::Close(act)) => asking.ask(act),
        }
    }
}

impl Year {
    fn ask(self, asking: &Asking<'_>) -> Answer {
        let Some(pay) = self.pay else {
            return asking.ask(GetFigures { on: self.on });
        };
        asking.ask(SetFigures {
            id: Uuid::nil(),
            pay,
            overhead: self.overhead.unwrap(),
            weeks: self.weeks.unwrap(),
            hours: self.hours.unwrap(),
            billable: self.billable.unwrap(),
            from: self.from,
            really: self.really,
        })
    }
}
