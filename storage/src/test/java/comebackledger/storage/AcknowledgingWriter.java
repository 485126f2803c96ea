package comebackledger.storage;

import java.nio.file.Path;
import java.util.stream.IntStream;

/** Runs in a process of its own: four threads write for ever, and each acknowledged row is a line on the standard output. */
final class AcknowledgingWriter {
    private AcknowledgingWriter() {}

    public static void main(String[] arguments) {
        JdbcStore store = JdbcStore.embedded(Path.of(arguments[0]), Durability.valueOf(arguments[1]));
        IntStream.range(0, 4).forEach(writer -> Thread.ofPlatform().start(() -> writeForEver(store, "T-" + writer)));
    }

    private static void writeForEver(JdbcStore store, String unit) {
        for (int i = 0;; i++) {
            String visit = "WO-" + i;
            int revision = store.write("fleet", tx -> Rows.appendNext(tx, unit, visit));
            System.out.println("kept " + unit + " " + visit + " " + revision);
        }
    }
}
