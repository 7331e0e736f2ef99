//! What a frame suggests of its light: the 24-patch chart in seventeen known lights.

use lookwright_film::look::Frame;
use lookwright_film::spatial::Planes;
use lookwright_render::judge::first_look;
use serde_json::Value;

/// `tests/reference/lights.py`, by colour-science 0.4.7.
#[test]
fn the_light_on_a_chart_is_found_within_ten_mired_in_the_median() {
    let lights: Value = serde_json::from_str(include_str!("reference/lights.json")).unwrap();
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    let mut off: Vec<f64> = Vec::new();
    for light in lights.as_array().unwrap() {
        let mut code = Planes::filled(6, 4, 0.0);
        for (i, patch) in light["patches"].as_array().unwrap().iter().enumerate() {
            for channel in 0..3 {
                code.planes[channel][i] = patch[channel].as_f64().unwrap() as f32;
            }
        }
        let found = first_look(&code, &frame);
        let mired = |kelvin: f64| 1e6 / kelvin;
        off.push((mired(found.kelvin) - mired(light["kelvin"].as_f64().unwrap())).abs());
        let tint = (found.tint - light["duv"].as_f64().unwrap()).abs();
        assert!(tint < 0.006, "{}: {tint}", light["light"]);
    }
    off.sort_unstable_by(f64::total_cmp);
    println!("off by {off:.1?} mired");
    assert!(
        off[off.len() / 2] <= 10.0 && off[off.len() - 1] < 20.0,
        "{off:?}"
    );
}
