package comebackledger.fleet;

/** What use is measured by. */
public enum Measure {
    KM("km"), DAYS("days"), ENGINE_HOURS("engineHours");

    private final String word;

    Measure(String word) {
        this.word = word;
    }

    /** As the wire spells it. */
    public String word() {
        return word;
    }
}
