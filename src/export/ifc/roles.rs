//! Which kinds of building elements the members are.

use crate::frame::Role;

/// What a member is in the model.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Class {
    /// Entity of one stick.
    pub(super) product: &'static str,
    /// Entity of its pattern.
    pub(super) kind: &'static str,
    /// Word of the entity's own list of types.
    pub(super) predefined: &'static str,
    /// Name of its set of quantities in the standard.
    pub(super) quantities: &'static str,
    /// Name of its set of common properties there.
    pub(super) common: &'static str,
}

/// The class of a role: a joist is a beam, all others are members.
///
/// Words of IFC4's lists `IfcMemberTypeEnum` and `IfcBeamTypeEnum`. A role without a word there is a
/// plain member, with its role in words (`ObjectType`).
pub(super) fn class(role: Role) -> Class {
    match role.ifc() {
        joist @ "JOIST" => Class {
            product: "IFCBEAM",
            kind: "IFCBEAMTYPE",
            predefined: joist,
            quantities: "Qto_BeamBaseQuantities",
            common: "Pset_BeamCommon",
        },
        member => Class {
            product: "IFCMEMBER",
            kind: "IFCMEMBERTYPE",
            predefined: member,
            quantities: "Qto_MemberBaseQuantities",
            common: "Pset_MemberCommon",
        },
    }
}

/// True if species and grade of the roof file apply to it: rafters and joists.
pub(super) fn is_graded(role: Role) -> bool {
    matches!(role.ifc(), "RAFTER" | "JOIST")
}
