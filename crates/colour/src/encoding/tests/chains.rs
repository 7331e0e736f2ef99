//! From code to light in other primaries: curve, matrix and adaptation together.

use super::{assert_close, decode, light_tolerance};
use crate::encoding::{Curve, EncodingId};
use crate::space::{Cat, primaries, rgb_to_rgb};
use crate::{Mat3, Rgb};

/// Encoding; linear camera RGB; AP0; linear BT.709.
type Chain = (&'static str, [f64; 3], [f64; 3], [f64; 3]);

/// Code (0.60, 0.40, 0.30) through each camera encoding, by colour-science 0.4.7 (the AP0 values
/// also by the built-in transforms of OpenColorIO 2.6.0 or the makers' published transforms):
/// linear camera RGB; AP0; linear BT.709 by Bradford, negatives kept.
#[rustfmt::skip]
const CHAINS: [Chain; 11] = [
    ("logc3", [1.317607586, 0.196550678, 0.071731042], [0.948657611, 0.305147907, 0.066484185], [2.019901631, 0.150392036, 0.017112594]),
    ("logc4", [6.481583651, 0.737674903, 0.234255307], [4.998437786, 0.746533279, 0.230701932], [11.668107998, -0.376110487, 0.078265510]),
    ("slog3-sgamut3cine", [1.036797285, 0.162764063, 0.060185730], [0.711971480, 0.167974149, 0.028266601], [1.593674859, 0.031295421, -0.003308237]),
    ("vlog", [1.008521036, 0.142388905, 0.049515734], [0.759928947, 0.161500636, 0.040560622], [1.717419973, 0.007686395, 0.010997290]),
    ("clog2", [1.293975522, 0.183195624, 0.064213556], [1.020332046, 0.200419792, 0.026660511], [2.335066811, -0.009055056, -0.014900963]),
    ("clog3", [1.139523504, 0.282284436, 0.122823721], [0.922394207, 0.303058950, 0.078435261], [1.951442136, 0.153637972, 0.031749412]),
    ("log3g10", [3.018511427, 0.373004128, 0.123079626], [2.417122211, 0.462070138, -0.169112452], [5.636716038, -0.017718001, -0.305439105]),
    ("applelog", [0.459476850, 0.083076023, 0.031578256], [0.330279289, 0.095501845, 0.032798693], [0.711837815, 0.036625098, 0.018631981]),
    ("flog2", [1.351678968, 0.196883309, 0.069898777], [0.960362868, 0.237949889, 0.072778075], [2.123661916, 0.054113209, 0.033861524]),
    ("nlog", [0.965927338, 0.241997849, 0.097756905], [0.710065904, 0.261605341, 0.101364842], [1.454584186, 0.153036416, 0.067491354]),
    ("dlog", [1.150241620, 0.182127680, 0.067794620], [0.840578776, 0.255138024, 0.040222906], [1.814304546, 0.114138285, -0.004331219]),
];

const CODE: [f32; 3] = [0.60, 0.40, 0.30];

/// Light error of the whole way in single precision, relative to the brightest channel.
const LIGHT_TOLERANCE: f64 = 2e-6;

fn assert_rgb(what: &str, ours: [f32; 3], theirs: [f64; 3]) {
    let scale = theirs.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    for (a, b) in ours.into_iter().zip(theirs) {
        assert_close(what, f64::from(a), b, LIGHT_TOLERANCE * scale);
    }
}

fn through(curve: Curve, matrix: Mat3) -> [f32; 3] {
    let light = Rgb::from_array(CODE).map(|code| curve.decode(code));
    matrix.for_pixels().apply(light).to_array()
}

#[test]
fn camera_codes_become_the_published_light() {
    let ap1_to_ap0 = rgb_to_rgb(&primaries::AP1, &primaries::AP0, Cat::Bradford);
    for (id, camera, ap0, bt709) in CHAINS {
        let encoding = EncodingId::parse(id).unwrap();
        let (curve, to_ap1) = encoding.to_scene();
        assert_rgb(
            &format!("{id}, camera"),
            through(curve, Mat3::IDENTITY),
            camera,
        );
        assert_rgb(
            &format!("{id}, AP0"),
            through(curve, ap1_to_ap0.after(&to_ap1)),
            ap0,
        );
        let space = &encoding.info().primaries;
        let to_bt709 = rgb_to_rgb(space, &primaries::BT709, Cat::Bradford);
        assert_rgb(&format!("{id}, BT.709"), through(curve, to_bt709), bt709);
    }
}

#[test]
fn grey_stays_grey_in_every_encoding() {
    for id in EncodingId::ALL {
        let (_, to_ap1) = id.to_scene();
        let (from_ap1, _) = id.from_scene();
        for row in to_ap1.0.iter().chain(&from_ap1.0) {
            assert_close(id.id(), row.iter().sum(), 1.0, 1e-9);
        }
    }
}

#[test]
fn the_way_back_undoes_the_way_there() {
    for id in EncodingId::ALL {
        let both = id.from_scene().0.after(&id.to_scene().1);
        for (a, b) in both
            .0
            .iter()
            .flatten()
            .zip(Mat3::IDENTITY.0.iter().flatten())
        {
            assert_close(id.id(), *a, *b, 1e-12);
        }
    }
}

#[test]
fn mid_grey_of_every_camera_is_mid_grey_of_the_scene() {
    for id in EncodingId::ALL {
        let (curve, to_ap1) = id.to_scene();
        let code = f64::from(curve.encode(0.18_f32));
        let light = to_ap1.apply([decode(curve, code); 3]);
        for channel in light {
            assert_close(id.id(), channel, 0.18, 0.1 * light_tolerance(curve));
        }
    }
}
