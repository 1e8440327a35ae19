using System.ComponentModel;
using System.Diagnostics;
using Commission.Tests;

namespace Commission.Proof.Digits;

/// <summary>Another library's coefficients for the certified problems; empty where it is not installed. Optional: the run does without.</summary>
/// <param name="Name">Its name.</param>
internal sealed record Beside(string Name)
{
    private static readonly Lazy<Dictionary<(string Library, string Problem), double[]>> _answers = new(Ask);

    /// <summary>The libraries that may stand beside.</summary>
    public static IReadOnlyList<Beside> All { get; } = [new("numpy"), new("scipy"), new("R")];

    /// <summary>Coefficients of a problem; null where there are none.</summary>
    public double[]? Of(string problem) => _answers.Value.GetValueOrDefault((Name, problem));

    private static Dictionary<(string Library, string Problem), double[]> Ask()
    {
        var problems = Directory.GetFiles(Repository.At("shared/reference/strd_linear"), "*.json").Order(StringComparer.Ordinal).Select(Problem.Read);
        var lines = string.Concat(problems.Select(problem => $"{problem.Name}\t{problem.Csv}\t{problem.Degree}\t{(problem.Constant ? 1 : 0)}\n"));
        var found = new Dictionary<(string Library, string Problem), double[]>();
        // The system's own Python has the packages of the system; another may stand first on the path.
        foreach (var python in new[] { "python3", "/usr/bin/python3" })
        {
            if (!found.Keys.Any(key => key.Library == "numpy"))
                Add(found, Run(python, "beside.py", lines));
        }

        Add(found, Run("Rscript", "beside.R", lines));
        return found;
    }

    private static void Add(Dictionary<(string Library, string Problem), double[]> found, string answers)
    {
        foreach (var parts in answers.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split('\t')))
            found[(parts[0], parts[1])] = [.. parts.Skip(2).Select(part => double.Parse(part, NumberStyles.Float, CultureInfo.InvariantCulture))];
    }

    private static string Run(string program, string script, string lines)
    {
        try
        {
            var start = new ProcessStartInfo(program, [Repository.At("tests/Commission.Proof/Digits/" + script)])
            {
                RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true,
            };
            using var process = Process.Start(start)!;
            process.ErrorDataReceived += (_, _) => { };
            process.BeginErrorReadLine();
            process.StandardInput.Write(lines);
            process.StandardInput.Close();
            var answers = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0 ? answers : "";
        }
        catch (Exception e) when (e is Win32Exception or IOException)
        {
            return ""; // not installed, or ended at once
        }
    }
}
