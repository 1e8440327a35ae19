using System.Text.RegularExpressions;

namespace Commission.Core.Tests.Characteristics;

/// <summary>One declaration a kind, and every part of it is there: command line, help, reports, handbook and proof derive from it.</summary>
public sealed partial class DeclarationTests
{
    private static readonly string[] Units = ["mm", "rad", "1", "1/mm", "steps/mm", "N/mm", "1/h", "d", "deg", "mm/min"];

    public static TheoryData<string> Kinds { get; } = [.. CharacteristicKinds.All.Select(kind => kind.Id)];

    [Fact]
    public void No_two_kinds_share_an_id_or_a_title()
    {
        Assert.Equal(CharacteristicKinds.All.Length, CharacteristicKinds.All.Select(kind => kind.Id).Distinct().Count());
        Assert.Equal(CharacteristicKinds.All.Length, CharacteristicKinds.All.Select(kind => kind.Title).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_kind_declares_its_words(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;

        Assert.Matches(Hyphened(), kind.Id);
        Assert.False(string.IsNullOrWhiteSpace(kind.Title));
        Assert.False(string.IsNullOrWhiteSpace(kind.Called));
        Assert.Matches($"^{kind.Id}/[1-9][0-9]*$", kind.Method);
        Assert.Matches(@"^[a-z-]+\.md$", kind.HandbookPage);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_kind_declares_columns_options_and_parameters_with_their_meaning(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;

        // Plain columns take any names; what they mean is the user's.
        Assert.Equal(kind is ColumnsKind, kind.Columns.IsEmpty);
        Assert.All(kind.Columns, column => Assert.False(string.IsNullOrWhiteSpace(column.Meaning), column.Name));
        Assert.All(kind.Columns.Where(column => column.Content == Commission.Core.Readings.ColumnContent.Length), column => Assert.EndsWith("_mm", column.Name, StringComparison.Ordinal));
        Assert.All(kind.Options, option => Assert.False(string.IsNullOrWhiteSpace(option.Meaning), option.Name));
        Assert.NotEmpty(kind.Parameters);
        Assert.All(kind.Parameters, parameter =>
        {
            Assert.Contains(parameter.Unit, Units);
            Assert.False(string.IsNullOrWhiteSpace(parameter.Meaning), parameter.Name);
        });
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_kind_has_published_cases_or_says_why_there_are_none(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;

        Assert.Equal(kind.PublishedCases.IsEmpty, kind.WhyNoPublishedCase is not null);
        Assert.All(kind.PublishedCases, one => Assert.False(string.IsNullOrWhiteSpace(one.Source) || string.IsNullOrWhiteSpace(one.Quantity)));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_kind_has_a_picture_or_says_why_there_is_none(string id)
    {
        var kind = CharacteristicKinds.Find(id)!;
        var own = kind.GetType().GetMethod(nameof(CharacteristicKind.Picture))!.DeclaringType != typeof(CharacteristicKind);

        Assert.Equal(own, kind.WhyNoPicture is null);
    }

    [GeneratedRegex("^[a-z]+(-[a-z]+)*$")]
    private static partial Regex Hyphened();
}
