package comebackledger.briefing;

import java.util.List;

/** Who is suspected in one system, and what would tell. */
record Suspicion(List<Briefing.Suspect> suspects, List<Briefing.NextTest> nextTests) {
    static final Suspicion NONE = new Suspicion(List.of(), List.of());

    Suspicion {
        suspects = List.copyOf(suspects);
        nextTests = List.copyOf(nextTests);
    }
}
