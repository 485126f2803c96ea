package comebackledger.ledger;

import comebackledger.judge.CountedCode;
import comebackledger.judge.JudgedTest;
import comebackledger.judge.Occurrence;
import comebackledger.judge.Warning;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One revision of a visit with what was made of it.
 *
 * @param codes every code of the visit; those that do not count are history
 * @param standing of the unit now
 */
public record RecordedVisit(String unit, String visit, int revision, Instant receivedAt, boolean voided, String evidence, List<JudgedTest> judgements,
        List<CountedCode> codes,
        List<Occurrence> occurrences, List<Warning> warnings, Optional<Standing> standing) {}
