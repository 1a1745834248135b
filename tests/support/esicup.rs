//! Research instances of strip packing (`tests/data/esicup`) as parts and cloth.

use ellwand_domain::{
    lay::{LayCloth, LayPart, Outline, Point, Ways},
    quantity::Micrometres,
    setting::Grain,
};
use serde_json::Value;

/// An instance: its name, text, and micrometres of cloth for one of its units, so that the cloth is about 1.5 m wide.
pub struct Instance {
    pub name: &'static str,
    text: &'static str,
    scale: f64,
}

pub const SHIRTS: Instance = Instance {
    name: "shirts",
    text: include_str!("../data/esicup/shirts.json"),
    scale: 40_000.0,
};
pub const SWIM: Instance = Instance {
    name: "swim",
    text: include_str!("../data/esicup/swim.json"),
    scale: 250.0,
};
pub const ALBANO: Instance = Instance {
    name: "albano",
    text: include_str!("../data/esicup/albano.json"),
    scale: 300.0,
};

impl Instance {
    /// Its pieces may lie either way along the strip, as on two-way cloth.
    pub fn parts(&self) -> (Vec<LayPart>, LayCloth) {
        let all: Value = serde_json::from_str(self.text).unwrap();
        let um = |value: &Value| (value.as_f64().unwrap() * self.scale).round() as i64;
        let parts = all["items"].as_array().unwrap().iter().map(|item| {
            assert_eq!(
                item["allowed_orientations"],
                serde_json::json!([0.0, 180.0])
            );
            let corners = item["shape"]["data"].as_array().unwrap();
            let corners = corners
                .iter()
                .map(|corner| Point::new(um(&corner[0]), um(&corner[1])));
            let mut corners: Vec<Point> = corners.collect();
            // The first corner stands there again as the last.
            corners.pop();
            LayPart {
                name: item["id"].to_string(),
                outline: Outline::new(corners).unwrap(),
                count: item["demand"].as_i64().unwrap(),
                grain: Grain::Lengthwise,
                may_flip: false,
            }
        });
        let cloth = LayCloth {
            usable: Micrometres::new(um(&all["strip_height"])).unwrap(),
            length: None,
            spacing: Micrometres::ZERO,
            ways: Ways::Two,
        };
        (parts.collect(), cloth)
    }
}
