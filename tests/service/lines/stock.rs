//! Cuts, work and washes as they are typed.

use super::{Answer, Asking};
use chrono::NaiveDate;
use clap::{Args, Subcommand};
use ellwand_contract::{
    Typed,
    cuts::Cut,
    typed::{by_times, chosen},
    wash::{FinishWash, SwatchInput, TestWash},
    work::LogWork,
};
use ellwand_domain::{
    code::{LotCode, PieceCode},
    quantity::Micrometres,
    shrinkage::Preparation,
};
use uuid::Uuid;

#[derive(Args)]
pub struct Cutting {
    #[command(flatten)]
    act: Cut,
    #[arg(long)]
    keep_strip: bool,
    #[arg(long)]
    no_keep_strip: bool,
    #[arg(long)]
    keep_rest: bool,
    #[arg(long)]
    no_keep_rest: bool,
}

impl Cutting {
    pub fn act(self) -> Cut {
        Cut {
            keep_strip: chosen(self.keep_strip, self.no_keep_strip),
            keep_rest: chosen(self.keep_rest, self.no_keep_rest),
            ..self.act
        }
    }
}

#[derive(Args)]
pub struct Working {
    #[command(flatten)]
    act: LogWork,
    #[arg(long)]
    billable: bool,
    #[arg(long)]
    not_billable: bool,
}

impl Working {
    pub fn act(self) -> LogWork {
        LogWork {
            billable: chosen(self.billable, self.not_billable),
            ..self.act
        }
    }
}

#[derive(Subcommand)]
pub enum WashAct {
    Test(Testing),
    Done(FinishWash),
}

#[derive(Args)]
pub struct Testing {
    lot: LotCode,
    #[arg(long, value_parser = readings)]
    length: Readings,
    #[arg(long, value_parser = readings)]
    width: Option<Readings>,
    #[arg(long, default_value = "washed")]
    preparation: Preparation,
    /// 50cmx50cm
    #[arg(long)]
    swatch: Option<String>,
    #[arg(long)]
    from: Option<PieceCode>,
    #[arg(long)]
    corner: bool,
    #[arg(long)]
    note: Option<String>,
    #[arg(long)]
    really: bool,
    #[arg(long)]
    date: Option<NaiveDate>,
}

type Marks = Vec<Typed<Micrometres>>;

/// Distances between marks before, and after each cycle.
#[derive(Clone)]
struct Readings {
    before: Marks,
    after: Vec<Marks>,
}

/// `350mm,350mm=334mm,335mm`, with another `=` before each further cycle.
fn readings(text: &str) -> Result<Readings, String> {
    let mut sides = text.split('=').map(|side| {
        let marks = side.split(',');
        marks.map(|mark| mark.trim().parse().unwrap()).collect()
    });
    let before = sides.next().ok_or("marks before")?;
    Ok(Readings {
        before,
        after: sides.collect(),
    })
}

impl WashAct {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        match self {
            Self::Done(act) => asking.ask(act),
            Self::Test(testing) => asking.ask(testing.act()),
        }
    }
}

impl Testing {
    fn act(self) -> TestWash {
        let swatch = self.swatch.map(|swatch| {
            let (length, width) = by_times(&swatch).unwrap();
            SwatchInput {
                piece: self.from.unwrap(),
                length: length.parse().unwrap(),
                width: width.parse().unwrap(),
                corner: self.corner,
            }
        });
        let (width_before, width_after) = match self.width {
            Some(width) => (width.before, width.after),
            None => Default::default(),
        };
        TestWash {
            id: Uuid::nil(),
            lot: self.lot,
            preparation: self.preparation,
            length_before: self.length.before,
            length_after: self.length.after,
            width_before,
            width_after,
            swatch,
            note: self.note,
            really: self.really,
            date: self.date,
        }
    }
}
