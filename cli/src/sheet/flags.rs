//! A sheet from flags.

use super::{check, fibres, read_certainty, shrinkage};
use crate::{command_error::CommandError, typed::checked};
use ellwand_contract::sheets::{FibreInput, SheetInput, ShrinkageInput, StiffnessInput};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Micrometres, Milligrams, PartsPerMillion},
    setting::TrimUnit,
};

/// What changes in a technical sheet; what is not given stays.
#[derive(Debug, Default, clap::Args)]
#[command(next_help_heading = "Technical sheet")]
pub struct SheetFlags {
    /// Fibre shares: "linen 55% + cotton 45%"
    #[arg(long, value_name = "SHARES", value_parser = fibre_list)]
    fibres: Option<Fibres>,
    /// Construction, in the trade's words: plain, twill, denim
    #[arg(long, value_name = "WORD")]
    construction: Option<String>,
    /// Colour
    #[arg(long, value_name = "WORD")]
    colour: Option<String>,
    /// Mass per area: 270gsm, 8oz/yd2; per running length with the full width known: 14oz/yd
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// Width from selvedge to selvedge
    #[arg(long, value_name = "WIDTH", value_parser = checked::<Micrometres>)]
    full_width: Option<String>,
    /// Both selvedges together
    #[arg(long, value_name = "WIDTH", value_parser = checked::<Micrometres>)]
    selvedges: Option<String>,
    /// Shrinkage stated by the seller, lengthwise/crosswise: "5%/2%", "3%/1% steamed"
    #[arg(long, value_name = "SHARES", value_parser = shrinkage, allow_hyphen_values = true)]
    shrinkage: Option<ShrinkageInput>,
    /// Nap, pile or a one-way print: true or false
    #[arg(long, value_name = "BOOL")]
    one_way: Option<bool>,
    /// Repeat lengthwise
    #[arg(long, value_name = "LENGTH", value_parser = checked::<Micrometres>)]
    repeat: Option<String>,
    /// Stretch crosswise: 20%
    #[arg(long, value_name = "SHARE", value_parser = checked::<PartsPerMillion>)]
    stretch: Option<String>,
    /// Interlining: true for fusible, false for sewn-in
    #[arg(long, value_name = "BOOL")]
    fusible: Option<bool>,
    /// Interlining: rigidity (11.4uNm) or bending length (20mm) lengthwise
    #[arg(long, value_name = "STIFFNESS")]
    stiffness_lengthwise: Option<String>,
    /// Interlining: rigidity or bending length crosswise
    #[arg(long, value_name = "STIFFNESS")]
    stiffness_crosswise: Option<String>,
    /// Interlining: rigidity or bending length on the bias
    #[arg(long, value_name = "STIFFNESS")]
    stiffness_bias: Option<String>,
    /// Interlining: how well the stiffness is known: measured, stated, estimated or unknown
    #[arg(long, value_name = "WORD", value_parser = read_certainty)]
    stiffness_certainty: Option<Certainty>,
    /// Thread: 30tex, "Nm 50/2", "Ne 40/2"
    #[arg(long, value_name = "COUNT")]
    yarn_count: Option<String>,
    /// Thread: length on a full reel
    #[arg(long, value_name = "LENGTH", value_parser = checked::<Micrometres>)]
    reel_length: Option<String>,
    /// Mass of the empty reel of thread, or of the core that cloth is rolled on
    #[arg(long, value_name = "MASS", value_parser = checked::<Milligrams>)]
    tare: Option<String>,
    /// Trim: size, 18L (ligne) or 12mm
    #[arg(long, value_name = "SIZE")]
    size: Option<String>,
    /// Trim: kept by count or by length
    #[arg(long, value_name = "UNIT")]
    unit: Option<TrimUnit>,
    /// How well mass and widths are known: measured, stated, estimated or unknown
    #[arg(long, value_name = "WORD", value_parser = read_certainty)]
    certainty: Option<Certainty>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

/// Fibre shares as one value.
#[derive(Debug, Clone)]
struct Fibres(Vec<FibreInput>);

fn fibre_list(text: &str) -> Result<Fibres, String> {
    fibres(text).map(Fibres)
}

impl SheetFlags {
    /// The sheet, checked.
    ///
    /// # Errors
    /// Exit 2: a value that cannot be read, with its flag.
    pub fn sheet(self) -> Result<SheetInput, CommandError> {
        let stiffness = StiffnessInput {
            lengthwise: self.stiffness_lengthwise,
            crosswise: self.stiffness_crosswise,
            bias: self.stiffness_bias,
            certainty: self.stiffness_certainty,
        };
        let sheet = SheetInput {
            fibres: self.fibres.map(|fibres| fibres.0).unwrap_or_default(),
            construction: self.construction,
            colour: self.colour,
            mass: self.mass,
            full_width: self.full_width,
            selvedges: self.selvedges,
            shrinkage: self.shrinkage,
            one_way: self.one_way,
            repeat: self.repeat,
            stretch: self.stretch,
            fusible: self.fusible,
            stiffness: Some(stiffness).filter(|stiffness| *stiffness != StiffnessInput::default()),
            yarn_count: self.yarn_count,
            reel_length: self.reel_length,
            tare: self.tare,
            size: self.size,
            unit: self.unit,
            certainty: self.certainty,
            note: self.note,
        };
        check(&sheet)
            .map_err(|fault| CommandError::usage(format!("{}: {}", fault.field, fault.message)))?;
        Ok(sheet)
    }
}
