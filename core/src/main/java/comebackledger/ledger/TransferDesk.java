package comebackledger.ledger;

import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.function.Consumer;

/**
 * Much at once, in and out. An import takes its lines in batches, each batch in one transaction with everything derived; a line that is refused
 * leaves the others alone. Taking the same lines again changes nothing.
 */
public final class TransferDesk {
    private static final int UNITS_A_PAGE = 200;

    private final Ledger ledger;
    private final Derivation derivation;

    public TransferDesk(Ledger ledger) {
        this.ledger = ledger;
        this.derivation = new Derivation(ledger.codec());
    }

    /** What became of a line. */
    public enum Taken {
        ACCEPTED, UNCHANGED,
        /** Other content is kept under this name, and the line does not carry the next number. */
        CONFLICT,
        /** The unit of a visit is not registered; its line has to come first. */
        UNIT_UNKNOWN
    }

    /** One outcome a line, in order. */
    public List<Taken> take(Caller caller, List<TransferLine> lines) {
        List<Taken> outcomes = ledger.store().write(caller.fleet(), tx -> {
            tx.lock(locks(lines));
            Batch batch = new Batch(tx, caller);
            List<Taken> taken = new ArrayList<>(lines.size());
            lines.forEach(line -> taken.add(batch.take(line)));
            batch.end();
            return List.copyOf(taken);
        });
        ledger.baselines().recordedVisits(caller.fleet(), outcomes.stream().filter(outcome -> outcome == Taken.ACCEPTED).count());
        return outcomes;
    }

    private static TreeSet<String> locks(List<TransferLine> lines) {
        TreeSet<String> units = new TreeSet<>();
        for (TransferLine line : lines) {
            units.add(switch (line) {
                case TransferLine.OfUnit unit -> unit.evidence().decoded().id();
                case TransferLine.OfUnitNamed unit -> unit.evidence().decoded().id();
                case TransferLine.OfVisit visit -> visit.unit();
                case TransferLine.OfPolicy _,TransferLine.OfBaseline _ -> Ledger.POLICY_LOCK;
            });
        }
        return units;
    }

    /** The lines of one transaction. The policy is read once, a unit and its fold once. */
    private final class Batch {
        private final Transaction tx;
        private final Caller caller;
        private final Map<String, Optional<UnitIntake>> intakes = new LinkedHashMap<>();
        private Optional<RecordedPolicy> policy = Optional.empty();

        Batch(Transaction tx, Caller caller) {
            this.tx = tx;
            this.caller = caller;
        }

        Taken take(TransferLine line) {
            return switch (line) {
                case TransferLine.OfUnit unit -> unit(unit);
                case TransferLine.OfUnitNamed unit -> intake(unit.evidence().decoded().id()).isPresent()
                        ? Taken.UNCHANGED
                        : unit(new TransferLine.OfUnit(unit.evidence(), OptionalInt.empty(), Optional.empty()));
                case TransferLine.OfVisit visit -> visit(visit);
                case TransferLine.OfPolicy policy -> policy(policy);
                case TransferLine.OfBaseline baseline -> baseline(baseline);
            };
        }

        void end() {
            Instant now = ledger.now();
            intakes.values().forEach(intake -> intake.ifPresent(open -> open.end(now)));
            intakes.clear();
        }

        private Derivation.Basis basis(Unit unit, int version) {
            RecordedPolicy known = policy.orElseGet(() -> ledger.policy(tx));
            policy = Optional.of(known);
            return new Derivation.Basis(unit, version, known.policy(), known.version());
        }

        private Optional<UnitIntake> intake(String unit) {
            return intakes.computeIfAbsent(unit, id -> tx.unit(id).map(version -> UnitIntake.ofKnown(tx, caller, derivation,
                    basis(ledger.codec().unit(id, version.document()), version.version()))));
        }

        private Taken unit(TransferLine.OfUnit line) {
            Unit unit = line.evidence().decoded();
            String id = unit.id();
            Optional<Stored.UnitVersion> current = tx.unit(id);
            int last = current.map(Stored.UnitVersion::version).orElse(0);
            if (line.version().isPresent() && line.version().getAsInt() != last + 1) {
                return tx.unitVersions(id).stream().filter(version -> version.version() == line.version().getAsInt()).findFirst()
                        .filter(version -> ledger.codec().unit(id, version.document()).equals(unit)).isPresent()
                                ? Taken.UNCHANGED
                                : Taken.CONFLICT;
            }
            if (current.isPresent() && ledger.codec().unit(id, current.get().document()).equals(unit)) {
                return Taken.UNCHANGED;
            }
            Optional.ofNullable(intakes.get(id)).flatMap(open -> open).ifPresent(open -> open.end(ledger.now()));
            Stored.UnitVersion version = new Stored.UnitVersion(id, last + 1, line.evidence().document(), line.recordedAt().orElseGet(ledger::now),
                    caller.name());
            tx.append(version);
            tx.change(Stored.ChangeKind.UNIT_RECORDED, Optional.of(id), Optional.empty(), version.recordedAt(), caller.name());
            Derivation.Basis basis = basis(unit, version.version());
            intakes.put(id, Optional.of(current.isEmpty()
                    ? UnitIntake.ofNew(tx, caller, derivation, basis)
                    : UnitIntake.ofRebuilt(tx, caller, derivation, basis)));
            return Taken.ACCEPTED;
        }

        private Taken visit(TransferLine.OfVisit line) {
            Optional<UnitIntake> intake = intake(line.unit());
            if (intake.isEmpty()) {
                return Taken.UNIT_UNKNOWN;
            }
            Visit visit = line.evidence().decoded();
            Optional<Stored.VisitRevision> current = intake.get().current(visit.id());
            int last = current.map(Stored.VisitRevision::revision).orElse(0);
            if (current.isPresent() && (line.revision().isEmpty() || line.revision().getAsInt() == last)) {
                return same(current.get(), visit) ? Taken.UNCHANGED : Taken.CONFLICT;
            }
            if (line.revision().isPresent() && line.revision().getAsInt() != last + 1) {
                return tx.visit(line.unit(), visit.id(), line.revision().getAsInt()).filter(kept -> same(kept, visit)).isPresent()
                        ? Taken.UNCHANGED
                        : Taken.CONFLICT;
            }
            intake.get().append(new Stored.VisitRevision(line.unit(), visit.id(), last + 1, visit.arrivedAt(), visit.voided(),
                    line.evidence().document(), receivedAt(line, current), caller.name()), visit);
            return Taken.ACCEPTED;
        }

        private boolean same(Stored.VisitRevision kept, Visit visit) {
            return ledger.codec().visit(visit.id(), kept.evidence()).equals(visit);
        }

        /** As given; else when the shop was done with it, but never before the revision that it follows. */
        private static Instant receivedAt(TransferLine.OfVisit line, Optional<Stored.VisitRevision> before) {
            Visit visit = line.evidence().decoded();
            Instant instant = line.receivedAt().or(visit::releasedAt).orElse(visit.arrivedAt());
            return before.map(Stored.VisitRevision::receivedAt).filter(earlier -> earlier.isAfter(instant)).orElse(instant);
        }

        private Taken policy(TransferLine.OfPolicy line) {
            int last = tx.policy().map(Stored.PolicyVersion::version).orElse(0);
            if (line.version() != last + 1) {
                return tx.policyVersions().stream().filter(version -> version.version() == line.version()).findFirst()
                        .filter(version -> ledger.codec().policy(version.document()).equals(line.evidence().decoded())).isPresent()
                                ? Taken.UNCHANGED
                                : Taken.CONFLICT;
            }
            end(); // what came before was judged under the policy before
            tx.append(new Stored.PolicyVersion(line.version(), line.evidence().document(), line.recordedAt(), caller.name()));
            tx.change(Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty(), line.recordedAt(), caller.name());
            policy = Optional.empty();
            return Taken.ACCEPTED;
        }

        private Taken baseline(TransferLine.OfBaseline line) {
            int last = tx.baseline().map(Stored.BaselineVersion::version).orElse(0);
            if (line.version() != last + 1) {
                return line.version() <= last ? Taken.UNCHANGED : Taken.CONFLICT;
            }
            tx.append(new Stored.BaselineVersion(line.version(), line.learnedAt(), line.content()));
            return Taken.ACCEPTED;
        }
    }

    /** Receives the lines of an export, in an order that an import can take. */
    public interface Receiver {
        void policy(Stored.PolicyVersion version);

        void baseline(Stored.BaselineVersion version);

        void unit(Stored.UnitVersion version);

        void visit(Stored.VisitRevision revision);
    }

    /** Every version and revision of a fleet. */
    public void give(String fleet, Receiver receiver) {
        Store store = ledger.store();
        store.read(fleet, Transaction::policyVersions).forEach(receiver::policy);
        store.read(fleet, Transaction::baselineVersions).forEach(receiver::baseline);
        eachUnit(fleet, unit -> {
            store.read(fleet, tx -> tx.unitVersions(unit.unit())).forEach(receiver::unit);
            store.read(fleet, tx -> tx.visitRevisions(unit.unit())).forEach(receiver::visit);
        });
    }

    /** The visits of a fleet as they are now, unit by unit and in order, without those withdrawn. */
    public void giveCurrent(String fleet, BiConsumer<Unit, Visit> receiver) {
        eachUnit(fleet, version -> {
            Unit unit = ledger.codec().unit(version.unit(), version.document());
            ledger.store().read(fleet, tx -> tx.visits(version.unit())).stream().filter(visit -> !visit.voided())
                    .forEach(visit -> receiver.accept(unit, ledger.codec().visit(visit.visit(), visit.evidence())));
        });
    }

    /** Each unit is read by itself, so that a slow receiver holds nothing in the store. */
    private void eachUnit(String fleet, Consumer<Stored.UnitVersion> work) {
        Optional<String> after = Optional.empty();
        List<Stored.UnitVersion> page;
        do {
            Optional<String> from = after;
            page = ledger.store().read(fleet, tx -> tx.units(from, UNITS_A_PAGE));
            page.forEach(work);
            after = page.isEmpty() ? after : Optional.of(page.getLast().unit());
        } while (page.size() == UNITS_A_PAGE);
    }
}
