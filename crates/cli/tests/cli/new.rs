//! `lookwright new`.

use super::bench::Bench;

#[test]
fn a_new_look_names_its_stock_and_can_be_read_again() {
    let bench = Bench::new();
    let text = bench.output(&["new", "--stock", "panchromatic-250"]);
    let look = lookwright_film::look::Look::read(&text).unwrap();
    assert_eq!(
        look.negative.stock.balance,
        lookwright_film::look::Balance::Panchromatic
    );
    assert_eq!(
        bench.output(&["new"]),
        bench.output(&["new", "--stock", "day-320"])
    );
}

#[test]
fn the_schema_is_json_and_closed() {
    let schema: serde_json::Value =
        serde_json::from_str(&Bench::new().output(&["new", "--schema"])).unwrap();
    assert_eq!(schema["additionalProperties"], false);
    assert_eq!(
        schema["properties"]["scan"]["properties"]["contrast"]["type"],
        "object"
    );
}

#[test]
fn an_unknown_stock_is_told_the_known_ones() {
    let out = Bench::new()
        .run(&["new", "--stock", "tungsten-800"])
        .code(2);
    let text = String::from_utf8(out.get_output().stderr.clone()).unwrap();
    assert!(
        text.contains("evening, overcast, noon, all-grey, red-blind"),
        "{text}"
    );
}
