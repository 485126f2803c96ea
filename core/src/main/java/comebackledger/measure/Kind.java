package comebackledger.measure;

/** What a unit of measure measures; quantities of different kinds never mix. */
public enum Kind {
    RESISTANCE("resistance"), VOLTAGE("voltage"), PRESSURE("pressure"), VOLUME_FLOW("volume flow"), MASS_FLOW("mass flow"),
    TEMPERATURE("temperature"), LENGTH("length"), AREA("area"), VOLUME("volume"), DISTANCE("distance"), TIME("time");

    private final String word;

    Kind(String word) {
        this.word = word;
    }

    /** The trade's word, for messages. */
    public String word() {
        return word;
    }
}
