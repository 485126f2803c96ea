package comebackledger.ledger;

import comebackledger.briefing.Briefing;
import comebackledger.briefing.ReadingSeries;
import comebackledger.briefing.ShelvedVisit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What a technician reads before the first measurement: what was true at an instant, as known now. */
public final class BenchDesk {
    private final Ledger ledger;

    BenchDesk(Ledger ledger) {
        this.ledger = ledger;
    }

    /** Empty for a unit that is not registered. */
    public Optional<Briefing> briefing(String fleet, String unit, Optional<Instant> at) {
        ledger.baselines().learnIfDue(fleet);
        return ledger.store().read(fleet, tx -> tx.unit(unit).map(version -> {
            Standing standing = ledger.standing(tx, fleet, version, at.orElseGet(ledger::now));
            return Briefing.of(standing.unit(), standing.view(), visits(tx, unit, standing.asOf()));
        }));
    }

    /** Every series by name; empty for a unit that is not registered. */
    public Optional<List<ReadingSeries>> readings(String fleet, String unit, Optional<Instant> at) {
        return ledger.standing(fleet, unit, at).map(standing -> ReadingSeries.all(standing.view()));
    }

    private List<ShelvedVisit> visits(Transaction tx, String unit, Instant at) {
        return tx.visits(unit).stream().filter(revision -> !revision.voided() && !revision.arrivedAt().isAfter(at))
                .map(revision -> new ShelvedVisit(revision.visit(), revision.arrivedAt(),
                        () -> ledger.codec().visit(revision.visit(), revision.evidence())))
                .toList();
    }
}
