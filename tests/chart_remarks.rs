//! Chart check: what it reads as published, and what it says of charts that lie or are lit badly.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::EncodingId;
use lookwright_colour::encoding::ScreenId;
use lookwright_colour::space::{Cat, Lab, delta_e_2000, primaries::BT709, white::D50, white::D65};
use lookwright_film::look::{Delivery, Frame, Look};
use lookwright_film::path::LightPath;
use lookwright_film::spatial::Planes;
use lookwright_render::judge::{ChartCorners, check_chart};
use lookwright_tests::rendered_chart::{
    Corners, Laid, Noise, check, corners_off, exposure_left, laid, lights, mired_off, published,
    scene, triple,
};

/// A chart over an even grey, and the light that it stands in.
fn plain_chart(stops: f64, corners: impl Fn(&Planes) -> Corners) -> (Laid, Vec<[f64; 3]>) {
    let patches: Vec<[f64; 3]> = published()
        .iter()
        .map(|patch| triple(&patch["ap1"]))
        .collect();
    let background = Planes::filled(640, 400, 0.1);
    let corners = corners(&background);
    (
        laid(
            &background,
            &patches,
            stops,
            &corners,
            0.0,
            &mut Noise::new(1),
        ),
        patches,
    )
}

fn straight(picture: &Planes) -> Corners {
    Corners::within(picture, 0.7, 4.0, [0.0; 8], [0.4, 0.6])
}

fn scaled(picture: &Planes, gain: impl Fn(usize, usize) -> f64) -> Planes {
    let mut out = picture.clone();
    for i in 0..out.pixels() {
        let by = gain(i % out.width, i / out.width) as f32;
        for plane in &mut out.planes {
            plane[i] *= by;
        }
    }
    out
}

#[test]
fn a_chart_as_published_reads_as_published_before_the_look_and_as_shown_after_it() {
    let (chart, patches) = plain_chart(0.0, straight);
    let look = Look::default();
    let found = check_chart(&chart.picture, &scene(), &look, ScreenId::Rec709, None).unwrap();
    let trim = found.trim.unwrap();
    assert!(
        trim.exposure.abs() <= 0.01 && (trim.kelvin - 5500.0).abs() < 30.0,
        "{trim:?}"
    );
    assert_eq!(found.remarks, [""; 0]);
    let path = LightPath::new(&look, &scene(), &Delivery::default());
    for ((patch, light), published) in found.patches.iter().zip(&patches).zip(published()) {
        assert!(published["name"].as_str().unwrap().starts_with(patch.name));
        let [l, a, b] = triple(&published["lab"]);
        assert_eq!(patch.colours[0], Lab { l, a, b });
        assert!(patch.differences[0] < 0.15, "{patch:?}");
        // A Rec.709 display (BT.1886, black at 0), its white taken for D50's.
        let code = path.to_screen(Rgb::from_array(light.map(|v| v as f32)));
        let shown = code.to_array().map(|c| libm::pow(f64::from(c), 2.4));
        let adapted = Cat::Bradford
            .xyz(D65, D50)
            .apply(BT709.rgb_to_xyz().apply(shown));
        let seen = Lab::from_xyz(adapted, D50);
        assert!(
            delta_e_2000(seen, patch.colours[2]) < 0.1,
            "{patch:?} {seen:?}"
        );
        assert!((delta_e_2000(patch.colours[0], seen) - patch.differences[1]).abs() < 0.1);
    }
}

#[test]
fn a_trim_that_is_there_counts_for_what_is_read_and_not_for_what_is_suggested() {
    let (chart, _) = plain_chart(-1.0, straight);
    let plain = check(&chart.picture, &scene()).unwrap();
    let mut frame = scene();
    frame.trim.exposure = plain.trim.unwrap().exposure;
    let trimmed = check(&chart.picture, &frame).unwrap();
    assert_eq!(trimmed.trim, plain.trim);
    assert!((trimmed.trim.unwrap().exposure - 1.0).abs() <= 0.01);
    assert!(plain.patches[21].differences[0] > 10.0 && trimmed.patches[21].differences[0] < 0.2);
}

#[test]
fn how_a_chart_lies_is_seen_and_said() {
    for (degrees, says) in [
        (184.0, "upside down"),
        (94.0, "on its side"),
        (-86.0, "on its side"),
    ] {
        let lying = |picture: &Planes| Corners::within(picture, 0.5, degrees, [0.0; 8], [0.5; 2]);
        let (chart, _) = plain_chart(0.0, lying);
        let found = check(&chart.picture, &scene()).unwrap();
        assert!(corners_off(&found.corners, &chart) < 0.1);
        assert!(found.remarks[0].contains(says), "{:?}", found.remarks);
    }
    let (chart, _) = plain_chart(0.0, |picture| {
        let [a, b, c, d] = straight(picture).0;
        Corners([b, a, d, c])
    });
    let refusal = check(&chart.picture, &scene()).unwrap_err();
    assert!(refusal.contains("mirror"), "{refusal}");
}

#[test]
fn shadow_and_clipping_are_said_and_what_is_clipped_is_left_out() {
    let (chart, patches) = plain_chart(0.0, straight);
    let said = |picture: &Planes, frame: &Frame| check(picture, frame).unwrap();
    // The light falls by a stop over the picture's width, two thirds of which the chart takes.
    let across = scaled(&chart.picture, |x, _| libm::exp2(-(x as f64) / 640.0));
    let found = said(&across, &scene());
    let [remark] = &found.remarks[..] else {
        panic!("{:?}", found.remarks)
    };
    assert!(
        remark.contains("uneven") && remark.contains("right"),
        "{remark}"
    );
    // The same of a chart upside down, in a lamp's light: sides are the picture's.
    let upside_down = |picture: &Planes| Corners::within(picture, 0.6, 180.0, [0.0; 8], [0.5; 2]);
    let lamp = lights().remove(0);
    let background = Planes::filled(640, 400, 0.1);
    let corners = upside_down(&background);
    let noise = &mut Noise::new(1);
    let turned = laid(&background, &lamp.patches, 0.0, &corners, 0.0, noise);
    let turned = scaled(&turned.picture, |x, _| libm::exp2(-(x as f64) / 500.0));
    let found = said(&turned, &scene());
    assert!(found.remarks[0].contains("upside down"));
    assert!(found.remarks[1].contains("right of the picture"));
    assert_eq!(found.remarks.len(), 2, "{:?}", found.remarks);
    // A hard shadow over its four patches at the lower right: two greys, that the others outvote.
    let corner = scaled(&chart.picture, |x, y| {
        let middle = [0, 1].map(|i| {
            let [a, _, c, _] = chart.centres;
            a[i] + (c[i] - a[i]) * [0.7, 0.5][i]
        });
        let shaded = x as f64 > middle[0] && y as f64 > middle[1];
        if shaded { 0.4 } else { 1.0 }
    });
    let found = said(&corner, &scene());
    assert!(found.remarks[0].contains("uneven"), "{:?}", found.remarks);
    assert!(
        found.trim.unwrap().exposure.abs() <= 0.03,
        "{:?}",
        found.trim
    );
    // All of the chart in shadow.
    let inside = |x: usize, y: usize| {
        let [a, _, c, _] = chart.centres;
        let (x, y) = (x as f64, y as f64);
        a[0] - 80.0 < x && x < c[0] + 80.0 && a[1] - 60.0 < y && y < c[1] + 60.0
    };
    let shaded = scaled(
        &chart.picture,
        |x, y| if inside(x, y) { 0.125 } else { 2.0 },
    );
    let found = said(&shaded, &scene());
    let [remark] = &found.remarks[..] else {
        panic!("{:?}", found.remarks)
    };
    assert!(remark.contains("shadow"), "{remark}");
    // A camera whose end lies between neutral 6.5 and neutral 8, in scene light and in log code.
    let mut short = chart.picture.clone();
    for plane in &mut short.planes {
        for value in plane {
            *value = value.min(0.45);
        }
    }
    let mut log = short.clone();
    let (curve, to_ap1) = EncodingId::LogC3.to_scene();
    let from_ap1 = to_ap1.inverse().unwrap();
    for i in 0..log.pixels() {
        let light = [0, 1, 2].map(|c| f64::from(short.planes[c][i]));
        let light = from_ap1.apply(light);
        for (plane, light) in log.planes.iter_mut().zip(light) {
            plane[i] = curve.encode(light as f32);
        }
    }
    let mut log_frame = Frame::default();
    log_frame.source.encoding = EncodingId::LogC3;
    for (picture, frame) in [(&short, scene()), (&log, log_frame)] {
        let found = said(picture, &frame);
        let trim = found.trim.unwrap();
        assert_eq!(trim.greys, 4);
        assert!(
            found.remarks[0].contains("white 9.5, neutral 8."),
            "{:?}",
            found.remarks
        );
        assert!(
            exposure_left(&found, &patches, 0.0).abs() <= 0.03 && mired_off(&found, 5500.0) < 5.0
        );
    }
}

#[test]
fn marks_by_hand_may_begin_anywhere_and_are_refused_where_no_chart_is() {
    let (chart, _) = plain_chart(0.5, straight);
    let size = [chart.picture.width as f64, chart.picture.height as f64];
    let marks = chart
        .centres
        .map(|at| [at[0] / size[0] + 0.004, at[1] / size[1] - 0.004]);
    let by = |marks: &ChartCorners| {
        check_chart(
            &chart.picture,
            &scene(),
            &Look::default(),
            ScreenId::Srgb,
            Some(marks),
        )
    };
    let upright = by(&marks).unwrap();
    assert!((upright.trim.unwrap().exposure + 0.5).abs() <= 0.01);
    let [a, b, c, d] = marks;
    assert_eq!(by(&[c, d, a, b]).unwrap().trim, upright.trim);
    for wrong in [
        [[0.02; 2]; 4],
        [[0.0, 0.0], [0.1, 0.0], [0.1, 0.1], [0.0, 0.1]],
        [a, a, c, d],
        [[f64::NAN; 2]; 4],
    ] {
        let refusal = by(&wrong).unwrap_err();
        assert!(
            refusal
                .message()
                .starts_with("The patches between these marks"),
            "{refusal}"
        );
    }
    let nothing = Planes::filled(0, 0, 0.0);
    assert!(
        check(&nothing, &scene())
            .unwrap_err()
            .starts_with("There is no picture")
    );
    for value in [0.0, 1.0, f32::NAN, f32::INFINITY, -1.0] {
        for (width, height) in [(1, 1), (3, 900), (640, 400)] {
            let even = Planes::filled(width, height, value);
            assert!(
                check(&even, &scene())
                    .unwrap_err()
                    .starts_with("No 24-patch chart")
            );
        }
    }
}

#[test]
fn other_colours_in_the_same_rows_are_no_chart() {
    let (_, patches) = plain_chart(0.0, straight);
    let mut noise = Noise::new(3);
    let background = Planes::filled(640, 400, 0.1);
    for _ in 0..8 {
        let mut shuffled = patches.clone();
        for i in (1..shuffled.len()).rev() {
            shuffled.swap(i, (noise.even() * (i + 1) as f64) as usize);
        }
        let grey = patches
            .iter()
            .map(|[r, g, b]| [(r + g + b) / 3.0; 3])
            .collect();
        let drawn = (0..24).map(|_| [(); 3].map(|()| noise.even())).collect();
        for colours in [shuffled, grey, drawn] {
            let corners = straight(&background);
            let chart = laid(&background, &colours, 0.0, &corners, 0.01, &mut noise);
            let refusal = check(&chart.picture, &scene()).unwrap_err();
            assert!(refusal.starts_with("No 24-patch chart"), "{refusal}");
        }
    }
}

/// A camera's own picture: scene light through the neutral display curve that un-render undoes, and one that
/// is cut off hard instead.
#[test]
fn a_finished_picture_is_read_and_said_to_be_one() {
    for (before, stops, exact) in [("soft", 0.3, 0.03), ("hard", 1.6, f64::INFINITY)] {
        let (chart, _) = plain_chart(stops, straight);
        let delivery = format!(r#"{{"display":{{"screen":"srgb","before":"{before}"}}}}"#);
        let path = LightPath::new(
            &Look::default(),
            &scene(),
            &Delivery::read(&delivery).unwrap(),
        );
        let mut shown = chart.picture.clone();
        for i in 0..shown.pixels() {
            let light = Rgb::from_array([0, 1, 2].map(|c| chart.picture.planes[c][i]));
            let code = path.unstyled(light).to_array();
            for (plane, code) in shown.planes.iter_mut().zip(code) {
                plane[i] = code;
            }
        }
        let found = check(&shown, &Frame::default()).unwrap();
        let trim = found.trim.unwrap();
        println!("{before}: {trim:?} {:?}", found.remarks);
        assert!(found.remarks[0].contains("finished picture"));
        assert!((trim.exposure + stops).abs() <= exact, "{trim:?}");
        assert!(mired_off(&found, 5500.0) < 5.0);
        let cut = found
            .remarks
            .iter()
            .any(|said| said.starts_with("Clipped") && said.contains("white 9.5"));
        assert_eq!(cut, before == "hard", "{:?}", found.remarks);
        assert_eq!(found.remarks.len(), if cut { 2 } else { 1 });
    }
}
