//! The systems that thread and yarn are sold in.

use serde::{Deserialize, Serialize};

/// A system of counting. Direct ones weigh a length, indirect ones measure a mass.
///
/// Sources: the definitions; yards in a pound of linen, worsted and woollen: GNU units; tickets on the three-cord basis:
/// apparelmerchandisinglearner.blogspot.com 2017, onlineclothingstudy.com 2013.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum YarnCount {
    /// Grams on a kilometre.
    Tex,
    /// Tenths of a tex.
    Decitex,
    /// Grams on 9 km.
    Denier,
    /// Nm: metres in a gram, 1 000 / tex.
    Metric,
    /// Ne: hanks of 840 yd in a pound, 590.541 / tex.
    Cotton,
    /// Metres that weigh 3 g, 3 000 / tex.
    MetricTicket,
    /// Hanks of 840 yd that weigh 3 lb, 1 771.6 / tex.
    CottonTicket,
    /// Leas of 300 yd in a pound: linen, hemp and ramie.
    LinenLea,
    /// Hanks of 560 yd in a pound: worsted.
    Worsted,
    /// Runs of 1 600 yd in a pound: woollen.
    WoollenRun,
}

impl YarnCount {
    /// Every system, in the order they are shown.
    pub const ALL: [Self; 10] = [
        Self::Tex,
        Self::Decitex,
        Self::Denier,
        Self::Metric,
        Self::Cotton,
        Self::MetricTicket,
        Self::CottonTicket,
        Self::LinenLea,
        Self::Worsted,
        Self::WoollenRun,
    ];

    /// The factor between a count and tex, and whether it divides (indirect) or multiplies.
    ///
    /// A hank of 840 yd is 0.768096 km and a pound 453.59237 g, so tex × Ne = 453.59237 / 0.768096; the others alike.
    pub(super) const fn factor(self) -> (i128, i128, bool) {
        match self {
            Self::Tex => (1, 1, false),
            Self::Decitex => (1, 10, false),
            Self::Denier => (1, 9, false),
            Self::Metric => (1_000, 1, true),
            Self::Cotton => (453_592_370, 768_096, true),
            Self::MetricTicket => (3_000, 1, true),
            Self::CottonTicket => (1_360_777_110, 768_096, true),
            Self::LinenLea => (453_592_370, 274_320, true),
            Self::Worsted => (453_592_370, 512_064, true),
            Self::WoollenRun => (453_592_370, 1_463_040, true),
        }
    }

    /// True where a higher number is a finer thread.
    #[must_use]
    pub const fn is_indirect(self) -> bool {
        self.factor().2
    }

    /// True for ticket numbers: of the finished thread, and on labels rounded to numbers that are in use.
    #[must_use]
    pub const fn is_ticket(self) -> bool {
        matches!(self, Self::MetricTicket | Self::CottonTicket)
    }

    /// What stands on a label: `tex`, `Ne`, `metric ticket`.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Tex => "tex",
            Self::Decitex => "dtex",
            Self::Denier => "den",
            Self::Metric => "Nm",
            Self::Cotton => "Ne",
            Self::MetricTicket => "metric ticket",
            Self::CottonTicket => "cotton ticket",
            Self::LinenLea => "linen lea",
            Self::Worsted => "worsted",
            Self::WoollenRun => "woollen run",
        }
    }

    /// What the number counts, for people.
    #[must_use]
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Tex => "grams on 1 km",
            Self::Decitex => "grams on 10 km",
            Self::Denier => "grams on 9 km",
            Self::Metric => "metres in 1 g",
            Self::Cotton => "hanks of 840 yd in 1 lb",
            Self::MetricTicket => "metres that weigh 3 g",
            Self::CottonTicket => "hanks of 840 yd that weigh 3 lb",
            Self::LinenLea => "leas of 300 yd in 1 lb",
            Self::Worsted => "hanks of 560 yd in 1 lb",
            Self::WoollenRun => "runs of 1600 yd in 1 lb",
        }
    }

    /// The system of a name, however it is spaced.
    pub(super) fn named(name: &str) -> Option<Self> {
        let name: String = name
            .chars()
            .filter(|c| *c != ' ')
            .collect::<String>()
            .to_lowercase();
        Some(match name.replace("tkt", "ticket").as_str() {
            "tex" => Self::Tex,
            "dtex" | "decitex" => Self::Decitex,
            "den" | "denier" => Self::Denier,
            "nm" => Self::Metric,
            "ne" | "nec" => Self::Cotton,
            "metricticket" => Self::MetricTicket,
            "cottonticket" => Self::CottonTicket,
            "lea" | "linenlea" | "nel" => Self::LinenLea,
            "worsted" | "new" => Self::Worsted,
            "run" | "woollenrun" => Self::WoollenRun,
            _ => return None,
        })
    }
}
