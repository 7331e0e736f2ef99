//! Which part of the light path a table carries.

use lookwright_film::look::{ChoiceOption, Options};

/// The part of the light path that a table carries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Split {
    /// From the camera's code to the screen's code.
    #[default]
    Whole,
    /// From the camera's code to the finished scan's log code, for people who grade on the scan.
    CameraToScan,
    /// From the finished scan's log code to the screen's code: the print alone.
    ScanToScreen,
}

impl Options for Split {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "whole",
            label: "Camera to screen",
        },
        ChoiceOption {
            id: "camera-to-scan",
            label: "Camera to scan",
        },
        ChoiceOption {
            id: "scan-to-screen",
            label: "Scan to screen",
        },
    ];
    const ALL: &'static [Self] = &[Self::Whole, Self::CameraToScan, Self::ScanToScreen];
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}
