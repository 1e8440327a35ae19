using System.Collections.Immutable;
using Commission.Core.Quantities;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>What the options of plain columns ask for, taken out of a table.</summary>
/// <param name="Names">Names of the parameters in their order.</param>
/// <param name="Rows">One design row for each row used.</param>
internal sealed record ColumnsModel(ImmutableArray<string> Names, ImmutableArray<ColumnsModel.DesignRow> Rows)
{
    private const int HighestDegree = 20;

    /// <summary>A design row in double-double, its response and its weight.</summary>
    internal sealed record DesignRow(double[] High, double[] Low, double Response, double Weight);

    public static Outcome<ColumnsModel> Of(ReadingTable table, FitOptions options)
    {
        var response = options.Words.GetValueOrDefault("response");
        var weights = options.Words.GetValueOrDefault("weights");
        var (predictors, degree, problem) = Explained(options);
        if (problem is not null) return problem;
        if (response is null) return new Problem("no response is named", "Name the column that is explained with --response");
        if (predictors.Contains(response)) return new Problem($"{response} cannot explain itself", "Name other columns as predictors");

        IEnumerable<string> wanted = weights is null ? [response, .. predictors] : [response, .. predictors, weights];
        var problems = wanted.Where(name => !table.Has(name)).Select(name => Missing(name, table)).ToList();
        if (problems.Count > 0) return new Outcome<ColumnsModel>.Bad([.. problems]);

        var constant = !options.Words.ContainsKey("no-constant");
        var rows = ImmutableArray.CreateBuilder<DesignRow>();
        foreach (var row in table.Used)
        {
            if (Empty(row, wanted, table) is { } gap) problems.Add(gap);
            else if (weights is not null && !(row[weights] > 0)) problems.Add(NotAWeight(row, weights, table));
            else rows.Add(Design(row, predictors, degree, constant, row[response], weights is null ? 1 : row[weights]));
        }

        if (problems.Count > 0) return new Outcome<ColumnsModel>.Bad([.. problems]);
        IEnumerable<string> names = degree is { } n ? Enumerable.Range(1, n).Select(k => k == 1 ? predictors[0] : $"{predictors[0]}^{k}") : predictors;
        return new ColumnsModel(constant ? ["constant", .. names] : [.. names], rows.ToImmutable());
    }

    private static (ImmutableArray<string> Predictors, int? Degree, Problem? Problem) Explained(FitOptions options)
    {
        var listed = options.Words.GetValueOrDefault("predictors");
        var polynomial = options.Words.GetValueOrDefault("polynomial");
        if (listed is null == polynomial is null)
            return ([], null, new Problem("the columns that explain the response are not clear", "Give either --predictors A,B or --polynomial NAME with --degree N"));
        if (polynomial is not null)
        {
            return options.Numbers.TryGetValue("degree", out var degree) && degree is >= 1 and <= HighestDegree && degree == Math.Floor(degree)
                ? ([polynomial], (int)degree, null)
                : ([], null, new Problem("the degree of the polynomial is missing or not a whole number from 1 to 20", "Give it with --degree"));
        }

        ImmutableArray<string> names = [.. listed!.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
        if (names.IsEmpty) return ([], null, new Problem("no predictor is named", "Name at least one column after --predictors"));
        return names.Distinct().Count() == names.Length
            ? (names, null, null)
            : ([], null, new Problem("a predictor is named twice", "Name each column once"));
    }

    private static DesignRow Design(ReadingRow row, ImmutableArray<string> predictors, int? degree, bool constant, double response, double weight)
    {
        List<DoubleDouble> cells = constant ? [1] : [];
        if (degree is { } n)
        {
            DoubleDouble power = 1;
            for (var k = 1; k <= n; k++) cells.Add(power *= row[predictors[0]]);
        }
        else
        {
            cells.AddRange(predictors.Select(name => new DoubleDouble(row[name])));
        }

        return new DesignRow([.. cells.Select(cell => cell.High)], [.. cells.Select(cell => cell.Low)], response, weight);
    }

    private static Problem Missing(string name, ReadingTable table) =>
        new($"there is no column {name}", $"The columns of numbers are {string.Join(", ", table.Columns)}") { File = table.Source, Line = 1, Field = name };

    private static Problem? Empty(ReadingRow row, IEnumerable<string> wanted, ReadingTable table)
    {
        var gap = wanted.FirstOrDefault(name => row.Maybe(name) is null);
        return gap is null ? null : new Problem("the cell is empty", "Fill it in, or leave the row out with a reason in the column excluded")
        {
            File = table.Source,
            Line = row.Line,
            Field = gap,
        };
    }

    private static Problem NotAWeight(ReadingRow row, string weights, ReadingTable table) =>
        new("a weight is above zero", "Leave the row out with a reason in the column excluded instead") { File = table.Source, Line = row.Line, Field = weights };
}
