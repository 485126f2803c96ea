package comebackledger.judge;

import java.util.List;

/** A visit with every test judged. */
public record JudgedVisit(VisitFacts facts, List<JudgedTest> tests, List<Warning> warnings) {}
