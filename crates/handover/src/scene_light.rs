//! Scene-linear light behind a lattice: the lattice holds ACEScct, in which film is nearly straight
//! between nodes, and two nodes of a CLF make light of it.

use lookwright_colour::Result;
use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::{primaries::AP1, rgb_to_rgb};
use lookwright_table::clf::{Log, LogParams, LogStyle, Matrix, ProcessNode};

/// ACEScct (Academy S-2016-001) to AP1 light, and that to an encoding's primaries.
///
/// # Errors
/// None for these numbers.
pub(crate) fn nodes(encoding: EncodingId) -> Result<[ProcessNode; 2]> {
    let params = LogParams {
        log_side_slope: 1.0 / 17.52,
        log_side_offset: 9.72 / 17.52,
        lin_side_break: Some(0.007_812_5),
        linear_slope: Some(10.540_237_741_654_5),
        ..LogParams::plain(2.0)
    };
    let info = encoding.info();
    Ok([
        ProcessNode::Log(Log::new(LogStyle::CameraLogToLin, [params; 3])?),
        ProcessNode::Matrix(Matrix {
            matrix: rgb_to_rgb(&AP1, &info.primaries, info.cat),
            offset: [0.0; 3],
        }),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_table::clf::ProcessList;

    /// The encoding's own formula for ACEScct, and AP1 to AP0 as the Academy's S-2014-004 prints it.
    #[test]
    fn nodes_are_the_light_that_the_code_stands_for() {
        let list = ProcessList::of_nodes(nodes(EncodingId::Ap0Linear).unwrap().to_vec());
        let (curve, _) = EncodingId::AcesCct.to_scene();
        let ap0 = [
            [0.695_452_2, 0.140_678_7, 0.163_869_06],
            [0.044_794_563, 0.859_671_1, 0.095_534_32],
            [-0.005_525_883, 0.004_025_21, 1.001_500_7_f32],
        ];
        for code in [
            [0.05_f32, 0.4, 0.6],
            [0.413_588, 0.15, 0.158],
            [0.9, 1.0, 0.0],
        ] {
            let ap1 = code.map(|c| curve.decode(c));
            for (row, found) in ap0.iter().zip(list.apply(code)) {
                let expected: f32 = row.iter().zip(ap1).map(|(m, v)| m * v).sum();
                let tolerance = 3e-6 * ap1.iter().fold(0.1, |m, v| v.abs().max(m));
                assert!(
                    (found - expected).abs() < tolerance,
                    "{code:?} {found} {expected}"
                );
            }
        }
    }
}
