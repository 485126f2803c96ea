package comebackledger.api.transfer;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;

/**
 * The rows of comma-separated values (RFC 4180) as they arrive, in bounded memory; semicolons and tabs separate too, where the first row uses them. A quote
 * that is never closed spoils the line it opens on and no other.
 */
final class CsvRows {
    /** Lines of one row, where text in quotes goes over several; common practice, no source. */
    private static final int LINES_A_ROW = 200;

    private final Lines lines;
    private final int bytesAtMost;
    private final Deque<Lines.Line> pushedBack = new ArrayDeque<>();
    private char separator = ',';

    CsvRows(Lines lines, int bytesAtMost) {
        this.lines = lines;
        this.bytesAtMost = bytesAtMost;
    }

    /** @param number of the row's first line */
    sealed interface Row {
        long number();

        record Cells(long number, List<String> cells, int bytes) implements Row {}

        record Broken(long number, String detail) implements Row {}
    }

    /** The first row that holds anything; decides the separator. */
    Optional<Row> header() throws IOException {
        Optional<Lines.Line> first = line();
        if (first.isPresent() && first.get().content().isPresent()) {
            String text = new String(first.get().content().get(), StandardCharsets.UTF_8);
            separator = text.contains(",") ? ',' : text.contains(";") ? ';' : text.contains("\t") ? '\t' : ',';
        }
        first.ifPresent(pushedBack::addFirst);
        return next();
    }

    /** The next row that holds anything; empty at the end. */
    Optional<Row> next() throws IOException {
        Optional<Lines.Line> first = line();
        while (first.isPresent() && first.get().isBlank()) {
            first = line();
        }
        return first.isEmpty() ? Optional.empty() : Optional.of(row(first.get()));
    }

    private Optional<Lines.Line> line() throws IOException {
        return pushedBack.isEmpty() ? lines.nextRaw() : Optional.of(pushedBack.removeFirst());
    }

    private Row row(Lines.Line first) throws IOException {
        List<Lines.Line> taken = new ArrayList<>();
        StringBuilder text = new StringBuilder();
        Optional<Lines.Line> next = Optional.of(first);
        int bytes = 0;
        while (next.isPresent()) {
            Lines.Line line = next.get();
            if (line.content().isEmpty()) {
                return taken.isEmpty()
                        ? new Row.Broken(line.number(), "The row has more than " + bytesAtMost + " bytes, the limit of one row.")
                        : unclosed(taken, Optional.of(line));
            }
            Optional<String> decoded = decoded(line.content().get());
            if (decoded.isEmpty()) {
                return taken.isEmpty()
                        ? new Row.Broken(line.number(), "The row is not UTF-8. Save the table as UTF-8 and send it again.")
                        : unclosed(taken, Optional.of(line));
            }
            taken.add(line);
            bytes += line.content().get().length;
            text.append(taken.size() > 1 ? "\n" : "").append(decoded.get());
            Split split = new Split(text, separator);
            if (split.closed() && split.sound()) {
                return new Row.Cells(first.number(), split.cells(), bytes);
            }
            if (split.closed() && taken.size() == 1) {
                return new Row.Broken(first.number(), "Something follows the closing quote of a cell. Write a quote inside a cell twice.");
            }
            if (split.closed()) {
                break; // closed by a quote of another row
            }
            if (taken.size() == LINES_A_ROW || bytes > bytesAtMost) {
                break;
            }
            next = line();
        }
        return unclosed(taken, Optional.empty());
    }

    /** Only the first line is lost: the others are read again. */
    private Row unclosed(List<Lines.Line> taken, Optional<Lines.Line> after) {
        after.ifPresent(pushedBack::addFirst);
        for (int i = taken.size() - 1; i > 0; i--) {
            pushedBack.addFirst(taken.get(i));
        }
        return new Row.Broken(taken.getFirst().number(),
                "A quote is opened in this row and not closed. Close it, or write a quote inside a cell twice.");
    }

    private static Optional<String> decoded(byte[] bytes) {
        try {
            String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
            return Optional.of(text.endsWith("\r") ? text.substring(0, text.length() - 1) : text);
        } catch (CharacterCodingException _) {
            return Optional.empty();
        }
    }

    /** One row cut into cells. */
    private static final class Split {
        private final CharSequence text;
        private final List<String> cells = new ArrayList<>();
        private boolean closed = true;
        private boolean sound = true;
        private int at;

        Split(CharSequence text, char separator) {
            this.text = text;
            while (at <= text.length()) {
                StringBuilder cell = new StringBuilder();
                boolean quoted = at < text.length() && text.charAt(at) == '"';
                if (quoted) {
                    quoted(cell);
                }
                while (at < text.length() && text.charAt(at) != separator) {
                    sound &= !quoted;
                    cell.append(text.charAt(at++));
                }
                cells.add(cell.toString());
                at++;
            }
        }

        private void quoted(StringBuilder cell) {
            for (at++; at < text.length(); at++) {
                if (text.charAt(at) != '"') {
                    cell.append(text.charAt(at));
                } else if (at + 1 < text.length() && text.charAt(at + 1) == '"') {
                    cell.append('"');
                    at++;
                } else {
                    at++;
                    return;
                }
            }
            closed = false;
        }

        boolean closed() {
            return closed;
        }

        boolean sound() {
            return sound;
        }

        List<String> cells() {
            return cells;
        }
    }
}
