package comebackledger.code;

/** What a code is about, as far as this ledger weighs it. */
public enum CodeKind {
    /** A sender is not heard. */
    LOST_COMMUNICATION("lost-communication"),
    /** A sender is heard, but its data is bad. */
    INVALID_DATA("invalid-data"),
    /** The reporter has taken itself off the network. */
    BUS_OFF("bus-off"),
    /** The network itself. */
    BUS("bus"), SOFTWARE_INCOMPATIBLE("software-incompatible"),
    /** A network code whose meaning is the maker's or not known here. */
    NETWORK_OTHER("network-other"), LOW_SUPPLY("low-supply"), CHARGE_AIR("charge-air"), OTHER("other");

    private final String word;

    CodeKind(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
