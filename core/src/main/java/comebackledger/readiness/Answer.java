package comebackledger.readiness;

/** The dispatch answer; also the weight of a reason. In order of weight. */
public enum Answer {
    READY("ready"), CAUTION("caution"), UNKNOWN("unknown"), HOLD("hold");

    private final String word;

    Answer(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
