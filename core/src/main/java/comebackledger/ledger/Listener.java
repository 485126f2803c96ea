package comebackledger.ledger;

import java.util.Optional;

/** Told after a change is kept. It runs on the writer's thread, so it hands long work on. */
@FunctionalInterface
public interface Listener {
    void changed(String fleet, Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit);
}
