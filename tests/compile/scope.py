"""A scope as a task about a run would have it."""

from builder.compile.kinds import Number, Record, Rows, Scope, Table, Truth, Word, number_in

CABLE = Record({"mass": number_in("kg/m"), "diameter": number_in("mm"), "construction": Word(("armoured", "screened"))}, "a cable")
RUN = Record({
    "cable": CABLE, "number": Number(), "bore": number_in("mm"), "voltage": number_in("V"), "lubricated": Truth(),
    "way": Word(("conduit", "tray")), "title": Word(), "route": Rows({"shape": Word(("straight",)), "length": number_in("m")}),
}, "a run")
TABLES = Record({
    "bends": Table({"construction": Word(("armoured", "screened")), "diameter": number_in("mm")}, {"pulling": Number()}),
    "policy": Table({}, {"slack": number_in("%"), "friction": Number(), "force": number_in("N"), "soil": Word()}),
}, "the tables")
TASK = Scope({
    "run": RUN, "table": TABLES, "job": Record({"practice": Word(("iec", "us"))}, "the job"),
    "length_in_hand": number_in("m"), "winding": number_in("degC"), "air": number_in("degC"), "rise": number_in("K"),
    "turn": number_in("deg"), "pull": number_in("N"), "torque": number_in("N.m"), "marking": Word(("legible", "damaged")),
    "needed": Record({"length": number_in("m"), "ruled_by": Word(("a", "b"))}, "the working `needed`"),
})
