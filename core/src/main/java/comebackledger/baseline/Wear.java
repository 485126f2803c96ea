package comebackledger.baseline;

import java.util.List;

/** What wear is counted in, of all that use is measured by. Everything is learned in both; a unit is judged by distance where its odometer is known. */
public enum Wear {
    KM("km", 1.0 / 200_000, 0.1 / 16_000, List.of(500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16_000.0, 32_000.0)),
    DAYS("days", 1.0 / 500, 0.1 / 90, List.of(2.0, 4.0, 8.0, 15.0, 30.0, 60.0, 120.0));

    private final String word;
    private final double weakRate;
    private final double weakReturn;
    private final List<Double> edges;

    Wear(String word, double weakRate, double weakReturn, List<Double> edges) {
        this.word = word;
        this.weakRate = weakRate;
        this.weakReturn = weakReturn;
        this.edges = edges;
    }

    public String word() {
        return word;
    }

    /** An amount in words: "31 701 km". */
    String told(double amount) {
        String digits = Long.toString(Math.round(amount));
        StringBuilder told = new StringBuilder(digits.length() + 8);
        for (int i = 0; i < digits.length(); i++) {
            boolean group = i > 0 && (digits.length() - i) % 3 == 0 && digits.charAt(i - 1) != '-';
            told.append(group ? " " : "").append(digits.charAt(i));
        }
        return told.append(' ').append(word).toString();
    }

    /** Episodes of one unit per measure before anything is learned (common practice, no source). */
    double weakRate() {
        return weakRate;
    }

    /** Returns of one repair per measure before anything is learned: one in ten inside the repeat window (common practice, no source). */
    double weakReturn() {
        return weakReturn;
    }

    /** Where the hazard of a return may step; beyond the last the repair itself counts as good. Doubling, as returns thin out with age (common practice, no source). */
    List<Double> edges() {
        return edges;
    }
}
