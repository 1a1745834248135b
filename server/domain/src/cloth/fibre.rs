//! Generic fibre names.
//!
//! Names of Regulation (EU) No 1007/2011, Annex I, with no. 49 of Regulation (EU) 286/2012 and no. 50 of Regulation
//! (EU) 2018/122. Generic names of the United States (16 CFR 303) beside them are from memory. `olefin` and
//! `fur fiber` each cover two EU names and stand alone.

use super::ClothError;
use crate::spelling;

/// A fibre: the name the book uses and the others it is read under.
#[derive(Debug, PartialEq, Eq)]
pub struct Fibre {
    /// EU generic name, the short form where Annex I gives two.
    pub name: &'static str,
    /// Other accepted names.
    pub others: &'static [&'static str],
}

const fn fibre(name: &'static str, others: &'static [&'static str]) -> Fibre {
    Fibre { name, others }
}

/// Every fibre known by name, in the order of Annex I.
pub const FIBRES: &[Fibre] = &[
    fibre("wool", &[]),
    fibre("alpaca", &["alpaca wool", "alpaca hair"]),
    fibre("llama", &["llama wool", "llama hair"]),
    fibre("camel", &["camel hair", "camel wool"]),
    fibre("cashmere", &["cashmere wool", "cashmere hair"]),
    fibre("mohair", &[]),
    fibre(
        "angora",
        &["angora rabbit hair", "angora wool", "angora hair"],
    ),
    fibre("vicuna", &["vicuña"]),
    fibre("yak", &["yak hair"]),
    fibre("guanaco", &[]),
    fibre("cashgora", &[]),
    fibre("beaver", &["beaver hair"]),
    fibre("otter", &["otter hair"]),
    fibre("fur fiber", &["fur fibre"]),
    fibre("hair", &["animal hair", "horsehair"]),
    fibre("silk", &[]),
    fibre("cotton", &[]),
    fibre("kapok", &[]),
    fibre("flax", &["linen"]),
    fibre("hemp", &["true hemp"]),
    fibre("jute", &[]),
    fibre("abaca", &["manila hemp"]),
    fibre("alfa", &[]),
    fibre("coir", &["coconut"]),
    fibre("broom", &[]),
    fibre("ramie", &[]),
    fibre("sisal", &[]),
    fibre("sunn", &[]),
    fibre("henequen", &[]),
    fibre("maguey", &[]),
    fibre("acetate", &[]),
    fibre("alginate", &[]),
    fibre("cupro", &["rayon (cupro)"]),
    fibre("modal", &["rayon (modal)"]),
    fibre("protein", &["azlon"]),
    fibre("triacetate", &[]),
    fibre("viscose", &["rayon", "rayon (viscose)", "viscose (rayon)"]),
    fibre("acrylic", &[]),
    fibre("chlorofibre", &["saran", "vinyon"]),
    fibre("fluorofibre", &["fluoropolymer"]),
    fibre("modacrylic", &[]),
    fibre("polyamide", &["nylon"]),
    fibre("aramid", &[]),
    fibre("polyimide", &[]),
    fibre("lyocell", &[]),
    fibre("polylactide", &["pla"]),
    fibre("polyester", &[]),
    fibre("polyethylene", &[]),
    fibre("polypropylene", &[]),
    fibre("olefin", &[]),
    fibre("polycarbamide", &[]),
    fibre("polyurethane", &[]),
    fibre("vinylal", &["vinal"]),
    fibre("trivinyl", &[]),
    fibre("elastodiene", &["rubber", "lastrile"]),
    fibre("elastane", &["spandex"]),
    fibre("glass fibre", &["glass", "glass fiber"]),
    fibre("elastomultiester", &["elasterell-p"]),
    fibre("elastolefin", &["lastol"]),
    fibre("melamine", &[]),
    fibre("metal", &["metallic", "metallised"]),
    fibre("paper", &[]),
    fibre("polypropylene/polyamide bicomponent", &[]),
    fibre("polyacrylate", &[]),
];

impl Fibre {
    /// All its names, the book's first.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.others.iter().copied())
    }
}

/// One spelling of a name: small letters, single spaces.
#[must_use]
pub fn spelled(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// The fibre of that name, in either case.
#[must_use]
pub fn find(name: &str) -> Option<&'static Fibre> {
    let name = spelled(name);
    FIBRES
        .iter()
        .find(|fibre| fibre.names().any(|known| known == name))
}

/// Why a name is refused, with the known one that was probably meant.
#[must_use]
pub fn unknown(name: &str) -> ClothError {
    let names: Vec<&str> = FIBRES.iter().flat_map(Fibre::names).collect();
    ClothError::UnknownFibre {
        name: name.trim().to_owned(),
        nearest: spelling::nearest(&spelled(name), &names).copied(),
    }
}
