using System.ComponentModel;
using System.Diagnostics;
using Commission.Proof.Durability;

namespace Commission.Proof.Speed;

/// <summary>One fit as a whole process, from start to end, against programs that do nothing of the kind.</summary>
internal static class WholeProcess
{
    public static void Into(ProofTable table, string program, string? empty, int count)
    {
        using var folder = new TemporaryFolder();
        var readings = folder.At("readings.csv");
        File.WriteAllText(readings, "commanded_mm,measured_mm,direction\n4,4.01,+\n142.25,142.26,-\n75,75.02,+\n143.5,143.55,+\n5.25,5.24,-\n7.75,7.74,-\n144.75,144.77,-\n77.5,77.5,-\n146,146.05,+\n6.5,6.51,+\n");
        string[] fit = ["fit", "axis-scale", readings, "--axis", "X", "--steps-per-mm", "320", "--json"];
        if (Seconds(program, fit, count) is not { } ours)
        {
            table.Ask("one fit as a whole process", program + " did not run", false);
            return;
        }

        if (empty is not null && Seconds(empty, [], count) is { } bare)
            SpeedTable.Row(table, "one fit as a whole process, ms; bare: an empty ahead-of-time program", 1e3 * ours, 1e3 * bare);
        else
            table.Row("one fit as a whole process, ms", (1e3 * ours).ToString("G3", System.Globalization.CultureInfo.InvariantCulture), "no --empty", "");
        if (Seconds("/usr/bin/python3", ["-c", "import numpy"], count) is { } numpy)
            SpeedTable.Row(table, "one fit as a whole process, ms; beside: starting numpy", 1e3 * ours, 1e3 * numpy);
    }

    /// <summary>Median of whole runs; null where the program is not there or fails.</summary>
    private static double? Seconds(string program, string[] words, int count)
    {
        var times = new double[count];
        for (var i = 0; i < count; i++)
        {
            var start = Stopwatch.GetTimestamp();
            try
            {
                using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardOutput = true, RedirectStandardError = true })!;
                process.StandardOutput.ReadToEnd();
                process.WaitForExit();
                if (process.ExitCode > 1)
                    return null;
            }
            catch (Win32Exception)
            {
                return null;
            }

            times[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        Array.Sort(times);
        return times[count / 2];
    }
}
