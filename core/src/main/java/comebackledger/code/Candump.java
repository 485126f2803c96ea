package comebackledger.code;

import comebackledger.code.Rejection.Where;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/** Reads the codes of SAE J1939-73 out of a bus log, or out of frames by themselves. */
public final class Candump {
    private Candump() {}

    /** A log as {@code candump -l} writes it, several networks and senders interleaved; places are lines from 1. */
    public static CodeReport read(String text) {
        return read(text, Limits.DEFAULT);
    }

    /** As {@link #read(String)}, with limits of the caller's. */
    public static CodeReport read(String text, Limits limits) {
        J1939Reader reader = new J1939Reader(Where.LINE, limits);
        int number = 0;
        int from = 0;
        while (from <= text.length()) {
            int newline = text.indexOf('\n', from);
            int to = newline < 0 ? text.length() : newline;
            number++;
            if (number > limits.maxLines()) {
                reader.reject(number, Why.LENGTH,
                        "The log has more than " + limits.maxLines() + " lines, the limit of one reading; the rest is left out.");
                break;
            }
            line(reader, number, text.substring(from, to));
            from = to + 1;
        }
        return reader.finish();
    }

    private static void line(J1939Reader reader, int number, String text) {
        switch (CandumpLine.read(text)) {
            case CandumpLine.Read.Blank _ -> { /* An empty line is neither an error nor a frame. */ }
            case CandumpLine.Read.Refused refused -> reader.reject(number, refused.why(), refused.detail());
            case CandumpLine.Read.Line(CandumpLine line) ->
                reader.accept(number, OptionalLong.of(line.micros()), Optional.of(line.networkInterface()),
                        line.frame());
        }
    }

    /** Frames of one network as {@code identifier#data}, in order and without times; places are frames from 0. */
    public static CodeReport readFrames(List<String> frames) {
        J1939Reader reader = new J1939Reader(Where.AT, Limits.DEFAULT);
        for (int i = 0; i < frames.size(); i++) {
            switch (CandumpLine.Frame.read(frames.get(i).strip())) {
                case CandumpLine.Frame.Read.Refused refused -> reader.reject(i, refused.why(), refused.detail());
                case CandumpLine.Frame.Read.Whole whole -> reader.accept(i, OptionalLong.empty(), Optional.empty(), whole.frame());
            }
        }
        return reader.finish();
    }
}
