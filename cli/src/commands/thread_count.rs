//! `ellwand thread-count`: a count in every system, the length on a reel, and needle sizes; no book is needed.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, Ui, paragraph},
    verb::Run,
};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Micrometres, Milligrams, QuantityError, Tex, Units, YarnCount},
    thread::{NeedleSize, length_on_reel, net_of},
};
use serde::Serialize;

/// Show a thread's count in every system, and the length on a reel by its mass
///
/// tex, dtex and denier weigh a length, so a higher number is a thicker thread; Nm, Ne, tickets, lea, worsted and runs
/// measure a mass, so a higher number is a finer one. Plies: Ne 40/2, 2x150den. A ticket is metric or cotton. For more see
/// `ellwand help thread`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand thread-count 'Ne 40/2'
  ellwand thread-count 'metric ticket 120' --mass 45g --tare 12g
  ellwand thread-count --needle 'Nm 80'")]
#[command(group(clap::ArgGroup::new("input").required(true).multiple(true).args(["count", "needle"])))]
pub struct Args {
    /// Thread count: 30tex, 300dtex, 2x150den, Nm 50/2, Ne 40/2, metric ticket 120, cotton ticket 70, linen lea 25, worsted 32/2
    #[arg(value_name = "COUNT", allow_hyphen_values = true)]
    count: Option<Tex>,
    /// Mass of the thread, or of thread and reel with --tare: 45g
    #[arg(
        long,
        value_name = "MASS",
        requires = "count",
        allow_hyphen_values = true
    )]
    mass: Option<Milligrams>,
    /// Mass of the empty reel: 12g
    #[arg(
        long,
        value_name = "MASS",
        requires = "mass",
        allow_hyphen_values = true
    )]
    tare: Option<Milligrams>,
    /// Size of a machine needle: Nm 80, 80/12 or US 12
    #[arg(long, value_name = "SIZE")]
    needle: Option<NeedleSize>,
}

/// Figures of a count, as shown.
#[derive(Debug, Serialize)]
struct CountReport {
    #[serde(skip_serializing_if = "Option::is_none")]
    thread: Option<Thread>,
    #[serde(skip_serializing_if = "Option::is_none")]
    needle: Option<Needle>,
}

#[derive(Debug, Serialize)]
struct Thread {
    /// Decimal string, to the nearest of 3 decimals.
    tex: String,
    /// Exact, a whole number or a fraction.
    exact_tex: String,
    counts: Vec<Count>,
    metres_per_kg: String,
    yards_per_pound: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    reel: Option<Reel>,
}

#[derive(Debug, Serialize)]
struct Count {
    system: YarnCount,
    count: String,
    /// True for tickets, which labels round.
    about: bool,
}

#[derive(Debug, Serialize)]
struct Reel {
    net_g: String,
    length_m: String,
    certainty: Certainty,
    #[serde(skip)]
    length: Micrometres,
    #[serde(skip)]
    net: Milligrams,
}

#[derive(Debug, Serialize)]
struct Needle {
    nm: i64,
    blade_mm: String,
    us: Option<i64>,
    /// False where no printed table was found for the pair.
    us_is_printed: Option<bool>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let thread = self.count.map(|count| thread(&self, count)).transpose()?;
        let report = CountReport {
            thread,
            needle: self.needle.map(needle),
        };
        if context.json(&report)? {
            return Ok(());
        }
        if let Some(thread) = &report.thread {
            show(context.ui, thread);
        }
        if let Some(Needle {
            nm,
            blade_mm,
            us,
            us_is_printed,
        }) = &report.needle
        {
            let us = us.map_or_else(
                || "no US size is known for it".to_owned(),
                |us| format!("US {us}"),
            );
            let printed = if *us_is_printed == Some(false) {
                " (not confirmed by a printed table)"
            } else {
                ""
            };
            context.ui.line(format!(
                "needle Nm {nm}: a blade of {blade_mm} mm, {us}{printed}"
            ));
        }
        Ok(())
    }
}

fn thread(args: &Args, count: Tex) -> Result<Thread, CommandError> {
    let one = |system: YarnCount| Count {
        system,
        count: count.number_in(system),
        about: system.is_ticket(),
    };
    Ok(Thread {
        tex: count.decimal_tex(),
        exact_tex: count.exact_tex(),
        counts: YarnCount::ALL.into_iter().map(one).collect(),
        metres_per_kg: count.metres_per_kg(),
        yards_per_pound: count.yards_per_pound(),
        reel: args.mass.map(|mass| reel(args, count, mass)).transpose()?,
    })
}

fn reel(args: &Args, count: Tex, mass: Milligrams) -> Result<Reel, CommandError> {
    let net = net_of(mass, args.tare.unwrap_or_default(), 1).map_err(|error| {
        CommandError::usage_hint(
            error.to_string(),
            "weigh it again with its reel, and give the empty reel's mass as --tare",
        )
    })?;
    let length = length_on_reel(net, count);
    let length = length.map_err(|error: QuantityError| CommandError::usage(error.to_string()))?;
    Ok(Reel {
        net_g: net.decimal_g(),
        length_m: length.decimal_m(),
        certainty: Certainty::Estimated,
        length,
        net,
    })
}

fn needle(size: NeedleSize) -> Needle {
    let (nm, us) = (size.nm(), size.us());
    let blade_mm = format!("{}.{:02}", nm.div_euclid(100), nm.rem_euclid(100));
    Needle {
        nm,
        blade_mm,
        us: us.map(|(us, _)| us),
        us_is_printed: us.map(|(_, printed)| printed),
    }
}

fn show(ui: &mut Ui<'_>, thread: &Thread) {
    let mut table = Table::headed("system | >count | counts");
    for Count {
        system,
        count,
        about,
    } in &thread.counts
    {
        let count = if *about {
            format!("about {count}")
        } else {
            count.clone()
        };
        table.row([system.label(), &count, system.meaning()]);
    }
    ui.table(&table);
    ui.blank();
    ui.line(format!(
        "{} m in 1 kg, {} yd in 1 lb",
        thread.metres_per_kg, thread.yards_per_pound
    ));
    if let Some(Reel { length, net, .. }) = &thread.reel {
        let net = net.show(Units::Metric);
        match length.is_zero() {
            true => ui.line("the reel is empty: it weighs no more than its tare"),
            false => {
                let (metres, yards) = (
                    length.show_thread(Units::Metric),
                    length.show_thread(Units::Imperial),
                );
                ui.line(format!(
                    "{net} of thread: {metres} on the reel ({yards}), estimated"
                ));
            }
        }
    }
    paragraph::show(
        ui,
        0,
        "Labels round tickets to numbers in use, so the one on the label may differ.",
    );
}
