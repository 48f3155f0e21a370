//! Numbers made from names: the same name always gives the same number.

/// FNV-1a over 128 bits of several texts, each ended by a zero byte to keep them separate.
fn hash(texts: &[&str]) -> u128 {
    const OFFSET_BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    let bytes = texts.iter().flat_map(|text| text.bytes().chain(std::iter::once(0)));
    bytes.fold(OFFSET_BASIS, |hash, byte| (hash ^ u128::from(byte)).wrapping_mul(PRIME))
}

/// A UUID of version 8 (RFC 9562: made in the maker's own way) from names within a job.
///
/// The first text keeps these different from all other UUIDs that anybody might make this way.
fn uuid(job: &str, name: &str) -> u128 {
    let hash = hash(&["stepoff roof frame", job, name]);
    // the low bits of the hash depend on the last letters alone: mix in the high ones
    let mixed = hash ^ (hash >> 67);
    let version = mixed & !(0xf << 76) | (0x8 << 76);
    version & !(0x3 << 62) | (0x2 << 62)
}

/// The 22 letters in which building models write a UUID (IFC4, `IfcGloballyUniqueId`).
pub(super) fn global_id(job: &str, name: &str) -> String {
    const LETTERS: &[u8; 64] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$";
    let uuid = uuid(job, name);
    (0..22).rev().map(|place| char::from(LETTERS[(uuid >> (6 * place)) as usize & 63])).collect()
}

/// A number of 30 bits from a name, to start from where a file needs small numbers.
pub(super) fn small(name: &str) -> u32 {
    let hash = hash(&[name]);
    ((hash ^ (hash >> 67) ^ (hash >> 98)) & 0x3fff_ffff) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn ids_are_22_letters_of_a_version_8_uuid_and_differ() {
        let mut seen = BTreeSet::new();
        for job in ["", "Kestrel Yard", "Kestrel Yard 2"] {
            for number in 0..2000 {
                let name = format!("R-A-{number}");
                let id = global_id(job, &name);
                assert_eq!(id.len(), 22);
                // two bits remain for the first letter
                assert!(id.starts_with(['0', '1', '2', '3']), "{id}");
                assert_eq!((uuid(job, &name) >> 76) & 0xf, 8);
                assert_eq!((uuid(job, &name) >> 62) & 0x3, 2);
                assert!(seen.insert(id));
            }
        }
    }

    #[test]
    fn ids_never_change() {
        // computed a second time in Python, with the letters from another program's packing of UUIDs.
        // Keep it: a change here gives every stick of every model ever exported a new identity
        assert_eq!(global_id("Kestrel Yard", "R-A-16"), "2gPIAAlY2ESR6u6DRukRXr");
        assert_eq!(small("R-A-16"), 126_908_293);
    }

    #[test]
    fn small_numbers_seldom_meet() {
        let numbers: BTreeSet<u32> = (0..4000).map(|n| small(&format!("J-{n}"))).collect();
        assert!(numbers.len() > 3990);
    }
}
