//! Lays: shown, and kept as they were packed.

use super::{Answer, Asking};
use clap::Args;
use ellwand_contract::{
    Typed,
    lays::{GetKeptLay, GetLay, KeepLay, Lay},
};
use ellwand_domain::{code::PieceCode, quantity::Micrometres};
use uuid::Uuid;

#[derive(Args)]
pub struct Laying {
    /// Of a garment, or a kept lay.
    of: String,
    need: Option<String>,
    #[arg(long)]
    from: Option<PieceCode>,
    #[arg(long)]
    width: Option<Typed<Micrometres>>,
}

impl Laying {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        match self.of.parse() {
            Ok(lay) => {
                let width = self.width;
                asking.ask(GetKeptLay { lay, width })
            }
            Err(_) => asking.ask(self.request(false)),
        }
    }

    pub fn keep(self, asking: &Asking<'_>) -> Answer {
        let mut laid: Lay = asking.call(&self.request(true))?;
        asking.ask(KeepLay {
            id: Uuid::nil(),
            garment: laid.garment,
            need: Some(laid.need),
            draft: laid.draft.take().unwrap(),
            note: None,
            date: None,
        })
    }

    fn request(&self, draft: bool) -> GetLay {
        GetLay {
            garment: self.of.parse().unwrap(),
            need: self.need.clone(),
            piece: self.from,
            width: self.width.clone(),
            draft,
        }
    }
}
