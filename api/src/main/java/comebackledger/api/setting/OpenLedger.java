package comebackledger.api.setting;

import comebackledger.ledger.Ledger;
import comebackledger.ledger.Store;
import comebackledger.openapi.LedgerCodec;
import java.time.Duration;
import java.time.InstantSource;

/** A ledger over the store that the settings name. */
public final class OpenLedger implements AutoCloseable {
    private final Store store;
    private final Ledger ledger;

    private OpenLedger(Store store, Duration baselineEvery) {
        this.store = store;
        this.ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {}, baselineEvery);
    }

    /** @throws Settings.Refused if the store cannot be opened */
    public static OpenLedger with(Settings settings) {
        Duration baselineEvery = Duration.ofHours(settings.whole(Settings.Key.BASELINE_HOURS, 1, 8760));
        return new OpenLedger(StoreOf.settings(settings), baselineEvery);
    }

    /**
     * For what makes no sense over a new and empty ledger: a mistyped folder must not be told to be in order.
     *
     * @throws Settings.Refused if there is none yet, or it cannot be opened
     */
    public static OpenLedger existing(Settings settings) {
        StoreOf.requireExisting(settings);
        return with(settings);
    }

    public Ledger ledger() {
        return ledger;
    }

    /** Whether the store answers a read; what health asks. */
    public boolean answers() {
        store.fleets();
        return true;
    }

    @Override
    public void close() {
        store.close();
    }
}
