using System.Globalization;
using Commission.Core.Quantities;
using Commission.Core.Suspects;

namespace Commission.Core.Procedures;

/// <summary>Looks whether a distance between two marks can be what was commanded: no machine that moves as commanded is off by a hundredth of it and some play.</summary>
internal static class DistanceWatch
{
    /// <summary>A notice about a distance read between two marks, centre to centre; null where its size can be so. Where one was kept that is off by the same ratio the machine is, and it was answered.</summary>
    /// <param name="run">The run with the reading in it.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="units">Units it was typed in.</param>
    public static SlipNotice? About(ProcedureRun run, TakenReading reading, ShownUnits units)
    {
        if (Commanded(reading) is not { } sent || CanBe(reading.Value, sent) || run.Readings.Any(one => IsOffAlike(one, reading, sent)))
            return null;
        // So far off it is mostly the keyboard; a graduation miscounted comes near from anywhere, and is named where nothing else is.
        var meant = TypingSlips.Meanings(reading.Value, units).Where(slip => CanBe(slip.Meant, sent) && InstrumentWatch.CanShow(run, reading, slip.Meant))
            .OrderBy(slip => TypingSlips.IsMiscount(slip.Slip)).ThenBy(slip => Math.Abs(slip.Meant - sent)).Select(slip => ((double Value, string Slip)?)slip).FirstOrDefault();
        var words = string.Create(CultureInfo.InvariantCulture, $"{PlainText.Of(reading.Typed).Replace(',', '.')} lies {Math.Abs(reading.Value - sent):F2} mm from the distance that was commanded");
        return new SlipNotice(meant is { } slip ? $"{words}; perhaps {slip.Slip}" : words, meant?.Value, reading.Sequence);
    }

    private static bool CanBe(double mm, double sent) => Math.Abs(mm - sent) <= OddOneOut.PlayMm + (OddOneOut.Scale * sent);

    private static bool IsOffAlike(TakenReading kept, TakenReading reading, double sent) => kept is { Stands: true, Excluded: null, KeptThoughQuestioned: true }
        && kept.Step == reading.Step && Commanded(kept) is { } then && CanBe(reading.Value, kept.Value / then * sent);

    // Between walls the size of the holes is in it, which nobody told.
    private static double? Commanded(TakenReading reading) => reading.Cell.Given is { } at
        && at.TryGetValue("x1_mm", out var x1) && at.TryGetValue("y1_mm", out var y1) && at.TryGetValue("x2_mm", out var x2) && at.TryGetValue("y2_mm", out var y2)
        && reading.Cell.Words.GetValueOrDefault("edges", "centre") == "centre"
        ? Math.Sqrt(Math.Pow(x2 - x1, 2) + Math.Pow(y2 - y1, 2)) : null;
}
