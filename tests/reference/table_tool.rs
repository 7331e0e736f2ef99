//! Lets `check_tables.py` use this project's own readers and writers of tables.
//!
//! ```text
//! table_tool apply TABLE < in.f32 > out.f32     each three little-endian floats through TABLE
//! table_tool clf TABLE > out.clf                the lattice of TABLE, written as CLF
//! ```

use std::error::Error;
use std::io::{Read, Write};

use lookwright_table::clf::{self, Lut3d, ProcessList, ProcessNode};
use lookwright_table::{Interpolation, Label, read_table};

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let (Some(command), Some(path)) = (words.next(), words.next()) else {
        return Err("usage: table_tool apply|clf TABLE".into());
    };
    let table = read_table(&std::fs::read(&path)?, &path)?;
    let mut output = std::io::stdout().lock();
    match command.as_str() {
        "apply" => {
            let mut bytes = Vec::new();
            std::io::stdin().lock().read_to_end(&mut bytes)?;
            let floats = |bytes: &[u8; 4]| f32::from_le_bytes(*bytes);
            let numbers: Vec<f32> = bytes.as_chunks::<4>().0.iter().map(floats).collect();
            for rgb in numbers.as_chunks::<3>().0 {
                for value in table.apply(*rgb) {
                    output.write_all(&value.to_le_bytes())?;
                }
            }
        }
        "clf" => {
            let node = ProcessNode::Lut3d(Lut3d {
                grid: table.lattice()?,
                how: Interpolation::Tetrahedral,
            });
            let text = clf::write(&ProcessList::of_nodes(vec![node]), &Label::default())?;
            output.write_all(text.as_bytes())?;
        }
        _ => return Err(format!("\"{command}\" is not apply or clf").into()),
    }
    Ok(())
}
