//! What several tests of files need.

/// CRC-32 as PNG has it (PNG specification, third edition, annex D).
pub(crate) fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| {
            if sum & 1 == 1 {
                sum >> 1 ^ 0xedb8_8320
            } else {
                sum >> 1
            }
        })
    })
}
